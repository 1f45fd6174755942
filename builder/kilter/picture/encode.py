"""A picture as it is published: upright, sRGB, no wider than asked, nothing of the camera left.

The pixels are pasted into a new image, so that no metadata can follow: EXIF, GPS, XMP, comments, thumbnail.
What was made once is kept beside the library by the content it was made from.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from pathlib import Path
from typing import Literal

from PIL import Image, features
from PIL import __version__ as pillow_version

from kilter.compute.keep import Keep, keep_for
from kilter.compute.pictureinfo import PictureInfo, picture_info
from kilter.compute.pictureplan import Plan, Size
from kilter.compute.svg import clean
from kilter.picture.compose import composed, cover, shown_size
from kilter.picture.decode import Pixels, decoded

Kind = Literal["webp", "jpeg", "png"]
WIDEST = 1440
"""Pixels of the widest picture that is published; the source is unpacked for it, whatever width is asked."""
SPARE = 1.25
"""How much larger the source is unpacked than it is shown, so that edges stay sharp."""
RECIPE = "3 webp q82 m4 jpeg q88 png"
ENDINGS = {"webp": "webp", "jpeg": "jpg", "png": "png"}
PLAIN = Plan()


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
    plan: Plan
    size: Size
    """Of the upright source, in pixels."""

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A place of the upright source in pixels of this picture; in the enlarged detail, if it lies in one."""
        to = self.plan.place(x, y, self.size)
        return to[0] * self.scale, to[1] * self.scale


def published(file: Path, width: int, kind: Kind = "webp", plan: Plan = PLAIN) -> Published:
    """Re-encode a picture at most `width` pixels wide; the same input gives the same bytes."""
    return variants(file, [(width, kind)], plan)[0]


def variants(file: Path, wanted: Sequence[tuple[int, Kind]], plan: Plan = PLAIN) -> list[Published]:
    """The picture in several widths and kinds, unpacked once for all that are not kept yet.

    An SVG is the same in each: its clean text. Raises ValueError for what is no sound picture.
    """
    info = picture_info(file)
    if info.problem:
        raise ValueError(info.problem)
    return list(_variants(str(file), info, tuple(wanted), plan))


@lru_cache(maxsize=96)
def _variants(
    file: str, info: PictureInfo, wanted: tuple[tuple[int, Kind], ...], plan: Plan
) -> tuple[Published, ...]:
    if info.format == "SVG":
        return (_drawing(Path(file).read_bytes(), info),) * len(wanted)
    maker = _Maker(file, info, plan)
    return tuple(maker.make(width, kind) for width, kind in wanted)


class _Maker:
    """Makes the variants of one picture; unpacks it when the first is missing."""

    def __init__(self, file: str, info: PictureInfo, plan: Plan) -> None:
        self.file, self.info, self.plan = file, info, plan
        self.size = Size(info.width, info.height)
        self.keep: Keep | None = keep_for(Path(file).parent)
        self._pixels: Pixels | None = None

    def make(self, width: int, kind: Kind) -> Published:
        kind = _possible(kind)
        wide, high = shown_size(self.plan, self.size, min(width, WIDEST))
        tag = _tag(self.info.sha256, self.plan.key, str(wide), kind)
        data = self.keep.get(f"picture-{tag}") if self.keep else None
        if data is None:
            data = encoded(composed(self.pixels, self.plan, wide), kind)
            if self.keep is not None:
                self.keep.put(f"picture-{tag}", data)
        scale = wide / self.plan.seen(self.size).width
        return Published(f"{tag[:12]}.{ENDINGS[kind]}", data, wide, high, scale, self.plan, self.size)

    @property
    def pixels(self) -> Pixels:
        """The covered source, upright."""
        if self._pixels is None:
            times = max((i.times for i in self.plan.insets), default=1.0)
            need = min(1.0, WIDEST * SPARE * times / self.plan.seen(self.size).width)
            data = Path(self.file).read_bytes()
            if hashlib.sha256(data).hexdigest() != self.info.sha256:
                raise ValueError("the file changed while it was read")
            self._pixels = decoded(data, need)
            cover(self._pixels, self.plan)
        return self._pixels


def _drawing(data: bytes, info: PictureInfo) -> Published:
    text = clean(data).text.encode()
    tag = _tag(info.sha256, "svg", hashlib.sha256(text).hexdigest())
    return Published(
        f"{tag[:12]}.svg", text, info.width, info.height, 1.0, PLAIN, Size(info.width, info.height)
    )


def _tag(*parts: str) -> str:
    """Of everything that the bytes depend on: source, plan, width, kind, and who encodes."""
    return hashlib.sha256("|".join((*parts, _makers())).encode()).hexdigest()[:32]


@cache
def _makers() -> str:
    codecs = [f"{n} {features.version(n)}" for n in ("webp", "jpg", "littlecms2")]
    return f"{RECIPE} pillow {pillow_version} {' '.join(codecs)}"


def _possible(kind: Kind) -> Kind:
    """JPEG in the place of WebP where Pillow was built without it."""
    return "jpeg" if kind == "webp" and not features.check("webp") else kind


def encoded(image: Image.Image, kind: Kind) -> bytes:
    """The bytes of a picture that has nothing but pixels."""
    stream = io.BytesIO()
    if kind == "webp":
        image.save(stream, "WEBP", quality=82, method=4)
    elif kind == "jpeg":
        image.save(stream, "JPEG", quality=88, optimize=True)
    else:
        image.save(stream, "PNG", optimize=True)
    return stream.getvalue()
