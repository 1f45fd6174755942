"""What the layout of item references is given and what it gives: plain values, no file, no markup.

Lengths are in points of the sheet as it is designed: CSS pixels on the site, their equal share of the width on a
card. The sheet is the picture with the margins round it; it counts from its own upper left.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from kilter.compute.pictureclose import SHARES

Side = Literal["top", "right", "bottom", "left"]
SIDES: tuple[Side, ...] = ("top", "right", "bottom", "left")
DIGIT = 0.62
"""Width of a bold digit in parts of the text size, Atkinson Hyperlegible; the widest, measured in the font."""
TALL = 0.8
"""Height of a digit with the air above and below it, in parts of the text size."""


class Anchor(NamedTuple):
    """An item: its number and its place in points of the picture, from the picture's upper left."""

    number: int
    x: float
    y: float


@dataclass(frozen=True)
class Style:
    """How large things are on a sheet that is `width` wide."""

    width: float
    shares: tuple[float, float, float]
    """Left margin in parts of the width, for numbers of one, two and three digits."""
    pitch: float = 24
    """Between the middles of neighbours in a column."""
    text: float = 17
    """Size of the numbers."""
    row_margin: float = 27
    lead: float = 3
    """From a number to the end of its leader."""
    outside: float = 6
    """From the end of a leader to the picture, at least."""
    near: float = 5.5
    """A leader closer to another item than this seems to point at it: dot, half the white of the line, 1 more."""

    def margin(self, digits: int) -> float:
        """Left and right."""
        return self.width * self.shares[min(digits, 3) - 1]

    def row_pitch(self, digits: int) -> float:
        """Between the middles of neighbours in a row."""
        return digits * DIGIT * self.text + 9


NARROW = Style(300, SHARES)
"""A telephone, or half the width of a card."""
WIDE = Style(560, (0.05, 0.065, 0.085), pitch=26, outside=9)
"""A desk, or the whole width of an A5 card."""
STYLES = {"narrow": NARROW, "wide": WIDE}


class Box(NamedTuple):
    """A rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


class Label(NamedTuple):
    """A number in the margin, and its leader from `end` to the item at `at`; all in points of the sheet."""

    number: int
    side: Side
    box: Box
    end: tuple[float, float]
    at: tuple[float, float]

    @property
    def middle(self) -> tuple[float, float]:
        return (self.box.left + self.box.right) / 2, (self.box.top + self.box.bottom) / 2

    @property
    def edge(self) -> tuple[float, float]:
        """Where the number is held: at the side that faces the picture in a column, in its middle in a row."""
        across, down = self.middle
        return {"left": self.box.right, "right": self.box.left}.get(self.side, across), down


@dataclass(frozen=True)
class Layout:
    """A sheet with its picture in the middle and the numbers round it, by number."""

    width: float
    height: float
    picture: Box
    labels: tuple[Label, ...]
    sides: int
    """Two or four; none for a figure without items."""
    digits: int
    """Of the longest number."""
