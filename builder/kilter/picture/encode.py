"""A picture as it is published: upright, sRGB-like RGB, no wider than asked, nothing of the camera left.

The pixels are pasted into a new image, so that no metadata can follow: EXIF, GPS, XMP, comments, thumbnail.
"""

from __future__ import annotations

import hashlib
import io
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal

from PIL import Image, ImageOps
from PIL import __version__ as pillow_version

FORMATS = ("PNG", "JPEG", "WEBP")
MOST_PIXELS = 64_000_000
SETTINGS = f"pillow {pillow_version} webp q82 m4 jpeg q88"


@dataclass(frozen=True)
class Published:
    """A re-encoded picture; the name says its content, never the author's file name."""

    name: str
    data: bytes
    width: int
    """Pixels."""
    height: int
    scale: float
    """Published pixels per upright source pixel."""


@lru_cache(maxsize=256)
def _published(data_hash: str, file: str, width: int, kind: str) -> Published:
    with Image.open(file, formats=FORMATS) as opened:
        if opened.width * opened.height > MOST_PIXELS:
            raise ValueError("picture is larger than any camera's")
        upright = ImageOps.exif_transpose(opened)
        flat = _on_white(upright)
    scale = min(1.0, width / flat.width)
    if scale < 1.0:
        flat = flat.resize((width, max(1, round(flat.height * scale))), Image.Resampling.LANCZOS)
    clean = Image.new("RGB", flat.size, "white")
    clean.paste(flat)
    data = _encode(clean, kind)
    tag = hashlib.sha256(f"{data_hash} {width} {kind} {SETTINGS}".encode()).hexdigest()[:12]
    return Published(f"{tag}.{'jpg' if kind == 'jpeg' else kind}", data, clean.width, clean.height, scale)


def published(file: Path, width: int, kind: Literal["webp", "jpeg", "png"] = "webp") -> Published:
    """Re-encode a picture at most `width` pixels wide; the same input gives the same bytes."""
    return _published(hashlib.sha256(file.read_bytes()).hexdigest(), str(file), width, kind)


def _on_white(image: Image.Image) -> Image.Image:
    """RGB; what is transparent becomes white, not the colour hidden beneath it."""
    if "A" in image.getbands() or "transparency" in image.info:
        image = image.convert("RGBA")
        white = Image.new("RGBA", image.size, "white")
        white.alpha_composite(image)
        image = white
    return image.convert("RGB")


def _encode(image: Image.Image, kind: str) -> bytes:
    stream = io.BytesIO()
    if kind == "webp":
        image.save(stream, "WEBP", quality=82, method=4)
    elif kind == "jpeg":
        image.save(stream, "JPEG", quality=88, optimize=True)
    else:
        image.save(stream, "PNG", optimize=True)
    return stream.getvalue()
