"""From a file's bytes to small, upright sRGB pixels, with little memory and nothing of the camera left.

A JPEG is unpacked at a half, a quarter or an eighth of its size where that is enough; other kinds are made smaller
by whole numbers, strip by strip. What a pixel of the result holds comes from its own cell of the source alone, so
that an area painted over afterwards leaves no trace of what was there.
"""

from __future__ import annotations

import io
import math
import warnings
from dataclasses import dataclass

from PIL import Image, ImageCms

from kilter.compute.pictureinfo import FORMATS, orientation
from kilter.compute.pictureplan import Size

STRIP = 48
"""Rows of the result that are made at a time."""
_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What brings a picture upright, by its EXIF orientation (EXIF 2.32, tag 0x0112)."""
_DEEP = ("I;16", "I;16B", "I;16L", "I;16N", "I")


@dataclass(frozen=True)
class Pixels:
    """An upright picture in RGB, a whole number of times smaller than its source."""

    image: Image.Image
    size: Size
    """Of the upright source."""
    step: int
    """Source pixels along the side of one pixel here."""
    bleed: int
    """Source pixels by which a change in the source may show beyond its place: a lossy source is made in blocks."""


def decoded(data: bytes, need: float) -> Pixels:
    """The pixels of a sound picture, at least `need` of the source's size.

    Raises OSError or ValueError for one that is not sound; `kilter.compute.pictureinfo` tells why.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with Image.open(io.BytesIO(data), formats=FORMATS) as opened:
            turn, profile, width = orientation(opened), opened.info.get("icc_profile"), opened.width
            size = Size(*opened.size)
            bleed = _bleed(opened)
            drawn = opened.draft("RGB", (math.ceil(size.width * need), math.ceil(size.height * need)))
            first = round(width / drawn[1][2]) if drawn is not None else 1
            opened.load()
            more = max(1, int(1 / (need * first)))
            bare = _srgb(_reduced(opened, more), profile)
    del opened  # at full size it holds as much memory as what was made of it
    if turn in _TURNS:
        bare = bare.transpose(_TURNS[turn])
        size = Size(size.height, size.width) if turn >= 5 else size
    return Pixels(bare, size, first * more, bleed)


def _bare(picture: Image.Image) -> Image.Image:
    """The pixels in a new image, so that nothing that was read beside them can follow."""
    clean = Image.new(picture.mode, picture.size)
    clean.paste(picture)
    return clean


def _bleed(picture: Image.Image) -> int:
    """Of a JPEG the side of its largest block, of a WebP that of its own (RFC 6386); a PNG keeps each pixel."""
    if picture.format == "PNG":
        return 0
    layers = getattr(picture, "layer", None) or [(0, 2, 2, 0)]
    return 8 * max(int(max(layer[1], layer[2])) for layer in layers)


def _reduced(picture: Image.Image, by: int) -> Image.Image:
    """Opaque, eight bits a colour, `by` times smaller; a new image in any case."""
    if by == 1 and picture.mode in ("RGB", "L", "CMYK") and "transparency" not in picture.info:
        return _bare(picture)
    first = _opaque(picture.crop((0, 0, 1, 1)))
    small = Image.new(first.mode, (math.ceil(picture.width / by), math.ceil(picture.height / by)))
    rows = STRIP * by
    for top in range(0, picture.height, rows):
        strip = picture.crop((0, top, picture.width, min(top + rows, picture.height)))
        small.paste(_opaque(strip).reduce(by), (0, top // by))
    return small


def _opaque(strip: Image.Image) -> Image.Image:
    """What is transparent becomes white, not the colour hidden beneath it; 16 bits of grey become 8."""
    if strip.mode in _DEEP:
        return strip.convert("I").point([value >> 8 for value in range(65536)], "L")
    if "A" in strip.getbands() or "a" in strip.getbands() or "transparency" in strip.info:
        clear = strip.convert("RGBA")
        white = Image.new("RGBA", strip.size, "white")
        white.alpha_composite(clear)
        return white.convert("RGB")
    if strip.mode in ("RGB", "L", "CMYK"):
        return strip
    return strip.convert("RGB")


def _srgb(picture: Image.Image, profile: object) -> Image.Image:
    """In sRGB: most telephones write wider colours, which would look dull without their profile."""
    if isinstance(profile, bytes) and profile:
        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            if "srgb" not in ImageCms.getProfileDescription(own).lower() or picture.mode != "RGB":
                made = ImageCms.profileToProfile(
                    picture, own, ImageCms.createProfile("sRGB"), outputMode="RGB"
                )
                if made is not None:
                    return _bare(made)  # it carries its new profile
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass  # a profile that is broken or of another kind of colour: the numbers are taken as they are
    return picture if picture.mode == "RGB" else picture.convert("RGB")
