"""A scale in rows: each thing has its words, and under them its place on one scale that all rows share.

So labels can't run into each other, however near two values lie, and two places are compared straight down.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kilter.publish.drawings.ink import (
    LINE,
    WIDTH,
    Picture,
    box,
    diamond,
    drawing,
    hatched,
    line,
    path,
    width_of,
    words,
    wrapped,
)  # fmt: skip

EDGE = 9.0
"""From the border of the drawing to the scale; half a diamond and its line stand in it."""
TRACK = 16.0
BETWEEN = 9.0
"""From one row's track to the next row's words."""

Ends = tuple[float | None, float | None]


@dataclass(frozen=True, slots=True)
class Row:
    """One thing on the scale. An end that is None goes on beyond the picture."""

    label: str
    numbers: str
    zone: Ends | None = None
    """Hatched: what is allowed, or how much it is."""
    shut: Ends | None = None
    """Full black: where it must not come."""
    span: tuple[float, float] | None = None
    """Between two stops: from where to where something lies."""
    at: float | None = None
    """A diamond."""


@dataclass(frozen=True, slots=True)
class Scale:
    """From values to places."""

    low: float
    high: float

    def x(self, value: float) -> float:
        """Never outside the picture; what lies beyond stands at its border."""
        share = (value - self.low) / (self.high - self.low)
        return EDGE + min(max(share, 0.0), 1.0) * (WIDTH - 2 * EDGE)

    def end(self, value: float | None, open_end: float) -> float:
        return open_end if value is None else self.x(value)


def scale_of(rows: Sequence[Row], from_zero: bool = False) -> Scale:
    """A scale that all rows lie on, with a twelfth of its length free at either end."""
    ends = [e for row in rows for pair in (row.zone, row.shut, row.span, (row.at,)) for e in pair or ()]
    known = [e for e in ends if e is not None]
    low, high = min(known), max(known)
    if from_zero:
        return Scale(0.0, high * 13 / 12 or 1.0)
    by = (high - low) / 10 or abs(high) / 10 or 1.0
    return Scale(low - by, high + by)


def rows_drawing(
    rows: Sequence[Row],
    said: str,
    scale: Scale | None = None,
    guides: Sequence[float] = (),
    note: str = "",
) -> Picture:
    """The picture; `guides` are dashed on every track, so that each row is compared with them."""
    on = scale or scale_of(rows)
    marks: list[str] = []
    y = 0.0
    for row in rows:
        text, y = _words(row, y)
        marks += text + _track(row, on, y, guides)
        y += TRACK + BETWEEN
    y -= BETWEEN
    for part in wrapped(note, WIDTH) if note else ():
        y += LINE
        marks.append(words(0, y - 4, part))
    return drawing(y + 3, said, *marks)


def _words(row: Row, y: float) -> tuple[list[str], float]:
    """Label and numbers in one line where both fit, else one under the other; and where they end."""
    if width_of(row.label) + width_of(row.numbers) + 12 <= WIDTH:
        y += LINE
        both = [words(0, y - 6, row.label), words(WIDTH, y - 6, row.numbers, "end", bold=True)]
        return both[: 2 if row.numbers else 1], y
    rows = []
    for said, bold in ((row.label, False), (row.numbers, True)):
        for part in wrapped(said, WIDTH):
            y += LINE
            rows.append(words(0, y - 6, part, bold=bold))
    return rows, y


def _track(row: Row, on: Scale, y: float, guides: Sequence[float]) -> list[str]:
    middle = y + TRACK / 2
    marks = [line(EDGE, middle, WIDTH - EDGE, middle, 1)]
    marks += [line(on.x(g), y, on.x(g), y + TRACK, 1.5, dashed=True) for g in guides]
    if row.zone is not None:
        x1, x2 = on.end(row.zone[0], EDGE), on.end(row.zone[1], WIDTH - EDGE)
        marks.append(hatched(x1, y + 1, max(x2 - x1, 1), TRACK - 2))
    if row.shut is not None:
        x1, x2 = on.end(row.shut[0], EDGE), on.end(row.shut[1], WIDTH - EDGE)
        marks.append(box(x1, y + 3, max(x2 - x1, 1), TRACK - 6, filled=True))
    if row.span is not None:
        marks += _span(on.x(row.span[0]), on.x(row.span[1]), y)
    if row.at is not None:
        marks.append(diamond(on.x(row.at), middle))
    return marks


def _span(x1: float, x2: float, y: float) -> list[str]:
    middle = y + TRACK / 2
    stops = [path([(x, y + 1), (x, y + TRACK - 1)], 2.5) for x in (x1, x2)]
    return [line(x1, middle, x2, middle, 4), *stops]
