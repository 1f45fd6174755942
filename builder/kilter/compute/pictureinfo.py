"""What a picture file is: its size as seen, its form, the hash of its bytes, and what is wrong with it.

Nothing here trusts a file: it is opened only as one of the allowed forms, measured before it is unpacked,
and unpacked whole, because a picture cut short shows only then. What was found is kept beside the library by
the hash of the bytes, so that a picture is unpacked once and not at every check.
"""

from __future__ import annotations

import hashlib
import io
import json
import warnings
from dataclasses import asdict, dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from kilter.compute.keep import Keep, keep_for
from kilter.compute.picturesign import looks_like, way_out

if TYPE_CHECKING:
    from PIL import Image

FORMATS = ("PNG", "JPEG", "WEBP")
ENDINGS = (".png", ".jpg", ".jpeg", ".webp", ".svg")
MOST_PIXELS = 64_000_000
"""More than a good camera gives; beyond it a small file can fill the memory."""
MOST_BYTES = 40_000_000
MOST_RATIO = 40
"""Of the longer side to the shorter: beyond it one of them would vanish on a telephone."""
PHOTOGRAPH = 0.2
"""Share of different colours among the pixels looked at from which a PNG is taken for a photograph."""
_LOOKED_AT = 96
_ORIENTATION = 0x0112
_SIDEWAYS = (5, 6, 7, 8)
"""EXIF orientations of a picture that is seen with width and height exchanged."""
_VERSION = 1
"""To be raised when the same bytes would be judged otherwise."""


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
    photograph: bool = False
    """Whether it may show people and rooms: every JPEG and WebP, and a PNG with as many colours."""


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
    keep = keep_for(Path(file).parent)
    return _kept(keep, data) if keep is not None else inspect(data)


def _kept(keep: Keep, data: bytes) -> PictureInfo:
    """What was found out about the same bytes before, or now. Only sound pictures are kept."""
    digest = hashlib.sha256(data).hexdigest()
    name = f"facts-{digest[:40]}-{_maker()}"
    if (known := keep.get(name)) is not None:
        info = PictureInfo(**json.loads(known))
        if info.sha256 == digest:
            return info
    info = inspect(data)
    if not info.problem:
        keep.put(name, json.dumps(asdict(info)).encode())
    return info


@cache
def _maker() -> str:
    """What the facts depend on beside the bytes."""
    from importlib.metadata import version

    return hashlib.sha256(f"{_VERSION} {version('pillow')}".encode()).hexdigest()[:8]


def inspect(data: bytes) -> PictureInfo:
    """The facts of a picture's bytes; never raises for what is in them."""
    digest = hashlib.sha256(data).hexdigest()
    if not data:
        return _bad(digest, "is no picture: it is empty", "copy it again from the camera or the drawing")
    if data[:2000].removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<"):
        from kilter.compute.svg import SvgError, clean, looks_like_svg

        if not looks_like_svg(data):
            return _inspect_pixels(data, digest)
        try:
            drawing = clean(data)
        except SvgError as trouble:
            return _bad(digest, f"is an SVG drawing that {trouble.problem}", trouble.help)
        return PictureInfo(drawing.width, drawing.height, "SVG", digest)
    return _inspect_pixels(data, digest)


def _inspect_pixels(data: bytes, digest: str) -> PictureInfo:
    from PIL import Image

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
        return _bad(digest, f"is no picture{looks_like(data)}", way_out(data))
    with picture:
        width, height = picture.size
        if width * height > MOST_PIXELS:
            return _too_many(digest)
        if max(width, height) > MOST_RATIO * min(width, height):
            return _bad(digest, "is far longer than it is wide", "cut out the part that matters")
        # many telephones keep a second picture inside a JPEG; only the first is seen
        if picture.format not in ("JPEG", "MPO") and getattr(picture, "n_frames", 1) > 1:
            return _bad(digest, "moves", "save one frame of it as a still picture")
        # an eighth of the size: every byte is still read, an eighth of an eighth of the memory filled
        picture.draft("RGB", (max(1, width // 8), max(1, height // 8)))
        picture.load()
        if orientation(picture) in _SIDEWAYS:
            width, height = height, width
        form = "JPEG" if picture.format == "MPO" else picture.format or ""
        photograph = form != "PNG" or _many_colours(picture)
    if form == "PNG":
        _verify(data)
    return PictureInfo(width, height, form, digest, photograph=photograph)


def orientation(picture: Image.Image) -> int:
    """How a camera says it was held (EXIF 2.32, tag 0x0112): 1 to 8; 1 where that can't be read."""
    try:
        found = picture.getexif().get(_ORIENTATION)
    except Exception:  # metadata made to break a reader is no reason to refuse the picture
        return 1
    return found if isinstance(found, int) and 1 <= found <= 8 else 1


def _many_colours(picture: Image.Image) -> bool:
    """Whether single pixels, taken all over the picture, differ as they do in a photograph."""
    from PIL import Image

    few = picture.resize((_LOOKED_AT, _LOOKED_AT), Image.Resampling.NEAREST).convert("RGB")
    colours = few.getcolors(_LOOKED_AT * _LOOKED_AT) or []
    return len(colours) > PHOTOGRAPH * _LOOKED_AT * _LOOKED_AT


def _verify(data: bytes) -> None:
    """Raises for a PNG whose checksums are wrong; loading alone passes over them."""
    from PIL import Image

    with Image.open(io.BytesIO(data), formats=FORMATS) as picture:
        picture.verify()


def _too_many(digest: str) -> PictureInfo:
    return _bad(digest, f"has more than {MOST_PIXELS // 1_000_000} million pixels", "save it smaller")


def _bad(digest: str, problem: str, help: str) -> PictureInfo:
    return PictureInfo(0, 0, "", digest, problem, help)
