"""Areas painted over, the rest cut off, the size brought down, details set into their corners."""

from __future__ import annotations

from PIL import Image, ImageDraw

from kilter.compute.pictureplan import Box, Inset, Plan, Size
from kilter.picture.decode import Pixels

COVER = (128, 128, 128)
"""One flat grey: a blur or coarse blocks still hold what was there."""
MARGIN = 8
"""Source pixels that a cover reaches beyond its box: the edge of a letter is softer than it looks."""
INK, HALO = (26, 26, 26), (255, 255, 255)
FRAME = 1 / 360
"""Width of a frame's line in parts of the picture's width, one pixel at least."""


def cover(pixels: Pixels, plan: Plan) -> None:
    """Destroy what lies under the covers, before anything else is done with the picture."""
    reach = MARGIN if not pixels.bleed else max(MARGIN, pixels.bleed)
    reach += 3 * pixels.step  # a cell that the edge runs through, and colours that are kept at half the size
    draw = ImageDraw.Draw(pixels.image)
    for box in plan.covers:
        left, top = (int((n - reach) // pixels.step) for n in (box.x, box.y))
        right, bottom = (int((n + reach) // pixels.step) for n in (box.right, box.bottom))
        draw.rectangle((max(left, 0), max(top, 0), right, bottom), fill=COVER)


def shown_size(plan: Plan, size: Size, width: int) -> tuple[int, int]:
    """Width and height in pixels of a picture that is published at most `width` wide; never enlarged."""
    seen = plan.seen(size)
    wide = max(1, min(width, round(seen.width)))
    return wide, max(1, round(seen.height * wide / seen.width))


def composed(pixels: Pixels, plan: Plan, width: int) -> Image.Image:
    """The covered picture, cropped, at most `width` wide, with its details."""
    seen = plan.seen(pixels.size)
    shown = shown_size(plan, pixels.size, width)
    made = _cut(pixels, seen).resize(shown, Image.Resampling.LANCZOS)
    scale = shown[0] / seen.width
    for inset in plan.insets:
        _set_in(made, pixels, plan, inset, scale)
    return made


def _cut(pixels: Pixels, box: Box) -> Image.Image:
    """A part of the source; what lies outside has no share in the pixels along its edge."""
    step, whole = pixels.step, pixels.image
    left, top = round(box.x / step), round(box.y / step)
    right, bottom = max(left + 1, round(box.right / step)), max(top + 1, round(box.bottom / step))
    if (left, top, right, bottom) == (0, 0, *whole.size):
        return whole
    return whole.crop((left, top, min(right, whole.width), min(bottom, whole.height)))


def _set_in(made: Image.Image, pixels: Pixels, plan: Plan, inset: Inset, scale: float) -> None:
    marked = _scaled(plan.marked_box(inset, pixels.size), scale)
    to = _scaled(plan.inset_box(inset, pixels.size), scale)
    size = max(1, to[2] - to[0]), max(1, to[3] - to[1])
    line = max(1, round(made.width * FRAME))
    _tie(made, marked, to, line)
    made.paste(_cut(pixels, inset.box).resize(size, Image.Resampling.LANCZOS), to[:2])
    draw = ImageDraw.Draw(made)
    for box in (marked, to):
        _frame(draw, box, line)


def _scaled(box: Box, scale: float) -> tuple[int, int, int, int]:
    return round(box.x * scale), round(box.y * scale), round(box.right * scale), round(box.bottom * scale)


def _frame(draw: ImageDraw.ImageDraw, box: tuple[int, int, int, int], line: int) -> None:
    """Ink between two white lines, so that it is seen on dark parts as well, and in grey."""
    left, top, right, bottom = box
    for out, colour, width in ((2 * line, HALO, 3 * line), (line, INK, line)):
        draw.rectangle(
            (left - out, top - out, right - 1 + out, bottom - 1 + out), outline=colour, width=width
        )


def _tie(
    made: Image.Image, marked: tuple[int, int, int, int], to: tuple[int, int, int, int], line: int
) -> None:
    """A line from the part to its enlargement; the part stays clear of it, the inset is drawn over its end."""
    ends = [((b[0] + b[2]) // 2, (b[1] + b[3]) // 2) for b in (marked, to)]
    kept, draw = made.crop(marked), ImageDraw.Draw(made)
    draw.line(ends, fill=HALO, width=3 * line)
    draw.line(ends, fill=INK, width=line)
    made.paste(kept, marked[:2])
