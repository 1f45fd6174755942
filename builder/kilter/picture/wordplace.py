"""Where words stand beside an arrow: inside the picture, clear of items, arrows and other words."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from kilter.picture.callouts.model import Box

LETTER, TALL = 8.6, 16
"""Pixels of a bold letter of 15 pixels, on the whole generously, and of a line."""
OUTSIDE = 10
"""How much worse a part outside the picture is than one over something else."""


class Words(NamedTuple):
    """Text beside a place: how far from it in pixels, and which part of it is held there."""

    text: str
    x: float
    y: float
    anchor: str

    def box(self, x: float, y: float) -> Box:
        """What it covers when its place is at x, y."""
        wide = LETTER * len(self.text)
        left = x + self.x - {"start": 0.0, "middle": wide / 2, "end": wide}[self.anchor]
        return Box(left, y + self.y - TALL / 2, left + wide, y + self.y + TALL / 2)


def beside(text: str, at: tuple[float, float], drawn: Box, taken: list[Box], picture: Box) -> Words:
    """The best place round what is drawn; `drawn` counts from the place, all else on the sheet."""

    def cost(words: Words) -> float:
        box = words.box(*at)
        outside = (box.right - box.left) * (box.bottom - box.top) - _shared(box, picture)
        return OUTSIDE * outside + sum(_shared(box, other) for other in taken)

    return min(_choices(text, drawn), key=cost)


def _choices(text: str, drawn: Box) -> Iterator[Words]:
    middle = (drawn.left + drawn.right) / 2, (drawn.top + drawn.bottom) / 2
    for y in (drawn.bottom + TALL / 2, drawn.top - TALL / 2):
        yield Words(text, middle[0], y, "middle")
        yield Words(text, drawn.left, y, "start")
        yield Words(text, drawn.right, y, "end")
    for y in (middle[1], drawn.top + TALL / 2, drawn.bottom - TALL / 2):
        yield Words(text, drawn.right + 4, y, "start")
        yield Words(text, drawn.left - 4, y, "end")


def _shared(one: Box, two: Box) -> float:
    """The area that two rectangles have in common."""
    wide = min(one.right, two.right) - max(one.left, two.left)
    high = min(one.bottom, two.bottom) - max(one.top, two.top)
    return wide * high if wide > 0 and high > 0 else 0.0
