"""Arrows of movements and a known length, laid over a picture; in ink with a white halo, told in words too.

Their size is in pixels, the same at every width; only their place follows the picture. One drawing serves the site
and the card.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import cos, hypot, pi, radians, sin
from typing import NamedTuple

from kilter.model.text import Figure, Motion
from kilter.picture.callouts.model import Box, Layout
from kilter.picture.wordplace import Words, beside

LONG, ROUND = 34, 16
"""Pixels: length of a straight arrow, radius of a turn."""
BAR_WORDS = 14
"""Pixels from a bar to the middle of its words."""
REACH = 60
"""Pixels round a place that an arrow keeps within."""
FREE_TURN = 240
"""Degrees of a turn that does not say how far."""
WAYS = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}
_DEGREES = re.compile(r"(\d+(?:\.\d+)?)\s*°")
Place = tuple[float, float]


class Arrow(NamedTuple):
    """A movement: its place on the sheet, its drawing as SVG round that place, and its words."""

    at: Place
    drawing: str
    words: Words


class Bar(NamedTuple):
    """A known length: its ends on the sheet, the way across it as a unit, and its words."""

    start: Place
    end: Place
    across: Place
    words: str


class Marks(NamedTuple):
    """All that is drawn over a picture beside its numbers."""

    arrows: tuple[Arrow, ...] = ()
    bar: Bar | None = None


def marks_of(figure: Figure, place: Callable[[float, float], Place], layout: Layout) -> Marks:
    """The marks of a figure; `place` turns source pixels into parts of the shown picture."""

    def on_sheet(x: float, y: float) -> Place:
        box, (u, v) = layout.picture, place(x, y)
        return box.left + u * (box.right - box.left), box.top + v * (box.bottom - box.top)

    bar = None
    if figure.scale is not None:
        start, end = on_sheet(*figure.scale.start), on_sheet(*figure.scale.end)
        bar = Bar(start, end, _across(start, end), figure.scale.length)
    return Marks(_arrows(figure.motions, on_sheet, layout, bar), bar)


def _arrows(
    motions: tuple[Motion, ...], on_sheet: Callable[[float, float], Place], layout: Layout, bar: Bar | None
) -> tuple[Arrow, ...]:
    """The arrows first, then the words round them, each clear of those before."""
    shapes = [(m, on_sheet(m.x, m.y), _turn(m) if m.kind == "turn" else _straight(m)) for m in motions]
    taken = [Box(x - 5, y - 5, x + 5, y + 5) for x, y in (label.at for label in layout.labels)]
    taken += [_moved(shape.box, at) for _, at, shape in shapes] + ([_of_bar(bar)] if bar else [])
    made = []
    for motion, at, shape in shapes:
        words = beside(motion.words, at, shape.box, taken, layout.picture)
        taken.append(words.box(*at))
        made.append(Arrow(at, shape.drawing, words))
    return tuple(made)


def _moved(box: Box, at: Place) -> Box:
    return Box(box.left + at[0], box.top + at[1], box.right + at[0], box.bottom + at[1])


def _of_bar(bar: Bar) -> Box:
    """The bar with its words."""
    (x1, y1), (x2, y2), (ax, ay) = bar.start, bar.end, bar.across
    middle = ((x1 + x2) / 2 + BAR_WORDS * ax, (y1 + y2) / 2 + BAR_WORDS * ay)
    words = Words(bar.words, 0, 0, "middle").box(*middle)
    return Box(
        min(x1, x2, words.left), min(y1, y2, words.top), max(x1, x2, words.right), max(y1, y2, words.bottom)
    )


def _across(start: Place, end: Place) -> Place:
    """The unit that stands upright on the way, upward or to the left."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    long = hypot(dx, dy) or 1.0
    x, y = dy / long, -dx / long
    return (-x, -y) if y > 0 or (y == 0 and x > 0) else (x, y)


class Shape(NamedTuple):
    """An arrow round its place: shaft and head as paths, and the box round both."""

    shaft: str
    head: str
    box: Box

    @property
    def drawing(self) -> str:
        """As SVG, with its halo."""
        halo = _path(self.shaft, 9, "#fff") + _path(self.head, 5, "#fff", "#fff")
        return halo + _path(self.shaft, 4, "#000") + _path(self.head, 0, "#000", "#000")


def _straight(motion: Motion) -> Shape:
    """A push ends at its place, a pull begins there; a slide lies over it, with a bar where it begins."""
    dx, dy = way(motion.way)
    begin = {"push": -LONG - 4.0, "pull": 4.0, "slide": -LONG / 2}[motion.kind]
    tip = begin + LONG
    tail, end, neck = (begin * dx, begin * dy), (tip * dx, tip * dy), ((tip - 13) * dx, (tip - 13) * dy)
    shaft = f"M{_at(*tail)}L{_at(*neck)}"
    if motion.kind == "slide":
        shaft += f"M{_at(tail[0] - 8 * dy, tail[1] + 8 * dx)}L{_at(tail[0] + 8 * dy, tail[1] - 8 * dx)}"
    xs, ys = (tail[0], end[0]), (tail[1], end[1])
    box = Box(min(xs) - 8, min(ys) - 8, max(xs) + 8, max(ys) + 8)
    return Shape(shaft, _head(end, (dx, dy)), box)


def _turn(motion: Motion) -> Shape:
    """An arc round its place, as far as it says (a quarter to five sixths of a circle are drawn)."""
    found = _DEGREES.search(motion.amount)
    sweep = min(max(float(found[1]), 90.0), 300.0) if found else float(FREE_TURN)
    sign = 1 if motion.way == "right" else -1
    begin = radians(-90 - sign * sweep / 2)
    end = begin + sign * radians(sweep)
    short = end - sign * 0.45  # the head takes the rest
    start, neck, tip = (_on_circle(a) for a in (begin, short, end))
    large = int(abs(short - begin) > pi)
    shaft = f"M{_at(*start)}A{ROUND} {ROUND} 0 {large} {int(sign > 0)} {_at(*neck)}"
    heading = (tip[0] - neck[0], tip[1] - neck[1])
    long = hypot(*heading)
    ahead = (heading[0] / long, heading[1] / long)
    edge = ROUND + 8.0
    head = _head((tip[0] + 3 * ahead[0], tip[1] + 3 * ahead[1]), ahead)
    return Shape(shaft, head, Box(-edge, -edge, edge, edge))


def _on_circle(angle: float) -> Place:
    return ROUND * cos(angle), ROUND * sin(angle)


def _head(tip: Place, ahead: Place) -> str:
    (x, y), (dx, dy) = tip, ahead
    back = x - 15 * dx, y - 15 * dy
    sides = (back[0] - 9 * dy, back[1] + 9 * dx), (back[0] + 9 * dy, back[1] - 9 * dx)
    return f"M{_at(x, y)}L{_at(*sides[0])}L{_at(*sides[1])}Z"


def way(words: str) -> Place:
    """The unit in a direction; y counts downward."""
    named = {"upper": "up", "lower": "down"}
    parts = [WAYS[named.get(w, w)] for w in words.split()]
    x, y = sum(p[0] for p in parts), sum(p[1] for p in parts)
    return x / hypot(x, y), y / hypot(x, y)


def _at(x: float, y: float) -> str:
    return f"{x + 0:.2f} {y + 0:.2f}"


def _path(d: str, width: float, stroke: str, fill: str = "none") -> str:
    return f'<path d="{d}" fill="{fill}" stroke="{stroke}" stroke-width="{width:g}" stroke-linejoin="round"/>'
