"""What is done to a picture before it is shown, and where a place of the source comes to lie.

Pure geometry: nothing here opens a file. Source pixels are those of the upright picture; shown pixels count
from the upper left of what is left after cropping, and are as large as source pixels.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from kilter.model.text import Area, Figure

EDGE = 0.02
"""Between an inset and the edge of the picture, in parts of the shown width."""


class Box(NamedTuple):
    """A rectangle in pixels; right and bottom are the first pixels outside."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    def holds(self, x: float, y: float) -> bool:
        """Whether a place lies inside."""
        return self.x <= x < self.right and self.y <= y < self.bottom

    def within(self, other: Box) -> bool:
        """Whether all of it lies inside another."""
        return (
            other.x <= self.x
            and other.y <= self.y
            and self.right <= other.right
            and self.bottom <= other.bottom
        )

    def meets(self, other: Box) -> bool:
        """Whether the two have a pixel in common."""
        return (
            self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom
        )


class Inset(NamedTuple):
    """A part of the source that is shown again in a corner, so many times as large."""

    box: Box
    place: str
    times: float


class Size(NamedTuple):
    """Of the upright source, in pixels."""

    width: int
    height: int


@dataclass(frozen=True)
class Plan:
    """All that a figure asks of its picture; without anything it is shown as it is."""

    crop: Box | None = None
    covers: tuple[Box, ...] = ()
    insets: tuple[Inset, ...] = ()

    @property
    def key(self) -> str:
        """Differs where what is shown differs; for names and hashes."""
        parts = [f"crop {_text(self.crop)}"] if self.crop else []
        parts += [f"cover {_text(c)}" for c in self.covers]
        parts += [f"detail {_text(i.box)} {i.place} {i.times:g}" for i in self.insets]
        return "; ".join(parts)

    def seen(self, size: Size) -> Box:
        """The part of the source that is shown."""
        return self.crop or Box(0, 0, size.width, size.height)

    def inset_box(self, inset: Inset, size: Size) -> Box:
        """Where an inset lies, in shown pixels."""
        seen = self.seen(size)
        width, height = inset.box.width * inset.times, inset.box.height * inset.times
        edge = seen.width * EDGE
        x = edge if inset.place.endswith("left") else seen.width - edge - width
        y = edge if inset.place.startswith("upper") else seen.height - edge - height
        return Box(x, y, width, height)

    def marked_box(self, inset: Inset, size: Size) -> Box:
        """Where the part that an inset enlarges lies, in shown pixels."""
        seen = self.seen(size)
        return inset.box._replace(x=inset.box.x - seen.x, y=inset.box.y - seen.y)

    def place(self, x: float, y: float, size: Size) -> tuple[float, float]:
        """A place of the source in shown pixels; what lies in an enlarged part is pointed out in the inset."""
        for inset in self.insets:
            if inset.box.holds(x, y):
                to = self.inset_box(inset, size)
                return to.x + (x - inset.box.x) * inset.times, to.y + (y - inset.box.y) * inset.times
        seen = self.seen(size)
        return x - seen.x, y - seen.y

    def hides(self, x: float, y: float, size: Size) -> str:
        """Why a place inside the source is not seen, as the end of a sentence; empty where it is."""
        if not self.seen(size).holds(x, y):
            return "which `:crop:` cuts off"
        if any(box.holds(x, y) for box in self.covers):
            return "which `:cover:` paints over"
        if any(i.box.holds(x, y) for i in self.insets):
            return ""
        at = self.place(x, y, size)
        if any(self.inset_box(i, size).holds(*at) for i in self.insets):
            return "under the enlarged detail"
        return ""


def plan_of(figure: Figure) -> Plan:
    """What a figure asks for."""
    return Plan(
        crop=box_of(figure.crop) if figure.crop else None,
        covers=tuple(box_of(a) for a in figure.covers),
        insets=tuple(Inset(box_of(d.area), d.place, d.times) for d in figure.details),
    )


def box_of(area: Area) -> Box:
    """An area without its place in the text."""
    return Box(area.x, area.y, area.width, area.height)


def _text(box: Box) -> str:
    return ",".join(f"{n:g}" for n in box)
