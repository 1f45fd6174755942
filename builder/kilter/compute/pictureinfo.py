"""What a picture file is: its size as seen, its form, the hash of its bytes, and what is wrong with it.

Nothing here trusts a file: it is opened only as one of the allowed forms, measured before it is unpacked,
and unpacked whole, because a picture cut short shows only then.
"""

from __future__ import annotations

import hashlib
import io
import warnings
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

FORMATS = ("PNG", "JPEG", "WEBP")
ENDINGS = (".png", ".jpg", ".jpeg", ".webp")
MOST_PIXELS = 64_000_000
"""More than a good camera gives; beyond it a small file can fill the memory."""
MOST_BYTES = 40_000_000
_ORIENTATION = 0x0112
_SIDEWAYS = (5, 6, 7, 8)
"""EXIF orientations of a picture that is seen with width and height exchanged."""


@dataclass(frozen=True, slots=True)
class PictureInfo:
    """Facts of one picture file; `problem` is empty for a sound one, `help` tells how to mend it."""

    width: int
    """Pixels as seen, with the camera's orientation heeded; 0 where unknown."""
    height: int
    format: str
    sha256: str
    """Of the bytes, 64 hex digits; empty where they could not be read."""
    problem: str = ""
    help: str = ""


def picture_info(file: Path) -> PictureInfo:
    """The facts of a picture; kept until the file's size or time changes."""
    try:
        stat = file.stat()
    except OSError as error:
        return _bad("", f"can't be read: {error.strerror or error}", "look at the file's name and rights")
    return _info(str(file), stat.st_mtime_ns, stat.st_size)


@lru_cache(maxsize=4096)
def _info(file: str, changed: int, size: int) -> PictureInfo:
    if size > MOST_BYTES:
        return _bad("", f"has {size:,} bytes, the most is {MOST_BYTES:,}", "save it smaller")
    try:
        data = Path(file).read_bytes()
    except OSError as error:
        return _bad("", f"can't be read: {error.strerror or error}", "look at the file's name and rights")
    return inspect(data)


def inspect(data: bytes) -> PictureInfo:
    """The facts of a picture's bytes; never raises for what is in them."""
    from PIL import Image

    digest = hashlib.sha256(data).hexdigest()
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        warnings.filterwarnings("ignore", category=UserWarning)
        try:
            return _opened(data, digest)
        except (Image.DecompressionBombError, Image.DecompressionBombWarning):
            return _too_many(digest)
        except Exception:  # a decoder may raise anything for bytes made to break it
            return _bad(digest, "is damaged or cut short", "copy it again from the camera or the drawing")


def _opened(data: bytes, digest: str) -> PictureInfo:
    from PIL import Image, UnidentifiedImageError

    try:
        picture = Image.open(io.BytesIO(data), formats=FORMATS)
    except UnidentifiedImageError:
        return _bad(digest, f"is no picture{_looks_like(data)}", "save it as PNG, JPEG or WebP")
    with picture:
        width, height = picture.size
        if width * height > MOST_PIXELS:
            return _too_many(digest)
        # many telephones keep a second picture inside a JPEG; only the first is seen
        if picture.format not in ("JPEG", "MPO") and getattr(picture, "n_frames", 1) > 1:
            return _bad(digest, "moves", "save one frame of it as a still picture")
        picture.load()
        if picture.getexif().get(_ORIENTATION) in _SIDEWAYS:
            width, height = height, width
        form = "JPEG" if picture.format == "MPO" else picture.format or ""
    if form == "PNG":
        _verify(data)
    return PictureInfo(width, height, form, digest)


def _verify(data: bytes) -> None:
    """Raises for a PNG whose checksums are wrong; loading alone passes over them."""
    from PIL import Image

    with Image.open(io.BytesIO(data), formats=FORMATS) as picture:
        picture.verify()


def _too_many(digest: str) -> PictureInfo:
    return _bad(digest, f"has more than {MOST_PIXELS // 1_000_000} million pixels", "save it smaller")


def _bad(digest: str, problem: str, help: str) -> PictureInfo:
    return PictureInfo(0, 0, "", digest, problem, help)


_SIGNS = {
    b"GIF8": "a GIF",
    b"%PDF": "a PDF",
    b"BM": "a BMP",
    b"II*\x00": "a TIFF",
    b"MM\x00*": "a TIFF",
    b"<svg": "an SVG",
    b"<?xml": "an SVG",
}


def _looks_like(data: bytes) -> str:
    """What the first bytes look like, for the message."""
    if data[4:8] == b"ftyp":
        return " known here (it looks like a HEIC or AVIF)"
    sign = next((name for start, name in _SIGNS.items() if data.lstrip().startswith(start)), None)
    return f" known here (it looks like {sign})" if sign else ""
