"""Made-up figures of every kind, and an independent judge of their layout."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import combinations
from math import hypot
from typing import NamedTuple

from kilter.picture.callouts.model import Anchor, Box, Label, Layout

KINDS = ("uniform", "clustered", "row", "column", "slanted", "grid", "edge", "same x", "on top of each other")
Point = tuple[float, float]


class Made(NamedTuple):
    """A figure: its items in pixels, and its size."""

    items: tuple[Anchor, ...]
    width: float
    height: float


def made_up(kind: str, count: int, chance: random.Random) -> Made:
    """A figure of a kind; numbers in no order, one to three digits."""
    width, height = 1000.0, float(chance.choice((320, 560, 750, 750, 1000, 1500)))
    points = [_point(kind, k, count, chance) for k in range(count)]
    numbers = chance.sample(range(1, chance.choice((99, 99, 250))), count)
    pairs = zip(numbers, points, strict=True)
    return Made(tuple(Anchor(n, round(x * width), round(y * height)) for n, (x, y) in pairs), width, height)


def _point(kind: str, k: int, count: int, chance: random.Random) -> Point:
    x, y, part = chance.random(), chance.random(), (k + 0.5) / count
    match kind:
        case "clustered":
            return 0.35 + 0.15 * chance.gauss(0, 0.6), 0.6 + 0.15 * chance.gauss(0, 0.6)
        case "row":
            return part, 0.5
        case "column":
            return 0.4, part
        case "slanted":
            return part, 0.1 + 0.8 * part
        case "grid":
            side = int(count**0.5) + 1
            return (k % side + 0.5) / side, (k // side + 0.5) / side
        case "edge":
            return ((0.0, y), (1.0, y), (x, 0.0), (x, 1.0), (0.0, 0.0), (1.0, 1.0))[chance.randrange(6)]
        case "same x":
            return chance.choice((0.2, 0.25, 0.7)), y
        case "on top of each other":
            return chance.choice(((0.3, 0.4), (0.31, 0.4), (0.8, 0.2), (x, y)))
    return x, y


def many(count: int, seed: int, most: int = 60) -> Iterator[Made]:
    """Figures of all kinds in turn, of one item to `most`, small ones as often as large ones."""
    chance = random.Random(seed)
    for k in range(count):
        size = chance.choice(
            (chance.randint(1, min(8, most)), chance.randint(1, min(24, most)), chance.randint(1, most))
        )
        yield made_up(KINDS[k % len(KINDS)], size, chance)


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def distance(p: Point, a: Point, b: Point) -> float:
    """From a point to a segment."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    long = dx * dx + dy * dy
    t = min(1.0, max(0.0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / long)) if long else 0.0
    return hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy)


def apart(one: Label, two: Label) -> float:
    """How far apart two leaders are; 0 if they cross. Leaders of one spot are measured by their ends."""
    a, b, c, d = one.at, one.end, two.at, two.end
    if a != c and _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0:
        return 0.0
    ends = [distance(b, c, d), distance(d, a, b)]
    return min(ends) if a == c else min(*ends, distance(a, c, d), distance(c, a, b))


def to_box(label: Label, box: Box) -> float:
    """How near a leader comes to a rectangle, by its corners, the leader's ends, and whether it cuts a side."""
    corners = [(box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom)]
    for p, q in zip(corners, corners[1:] + corners[:1], strict=True):
        a, b = label.at, label.end
        if _side(a, b, p) * _side(a, b, q) < 0 and _side(p, q, a) * _side(p, q, b) < 0:
            return 0.0
    ends = (
        hypot(max(box.left - x, x - box.right, 0), max(box.top - y, y - box.bottom, 0))
        for x, y in (label.at, label.end)
    )
    return min(*ends, *(distance(c, label.at, label.end) for c in corners))


class Faults(NamedTuple):
    """What is wrong with a layout; all of it must be 0."""

    crossings: int
    labels_on_labels: int
    leaders_on_labels: int
    outside: int

    def __add__(self, other: object) -> Faults:
        assert isinstance(other, Faults)
        return Faults(*(a + b for a, b in zip(self, other, strict=True)))


CLEAR = 2.0
"""Points between a leader and a number that is not its own, at least."""


def faults(layout: Layout) -> Faults:
    """Judged anew from the drawing alone."""
    pairs = list(combinations(layout.labels, 2))
    return Faults(
        sum(apart(a, b) < 1e-9 for a, b in pairs),
        sum(a.box.meets(b.box) for a, b in pairs),
        sum((to_box(a, b.box) < CLEAR) + (to_box(b, a.box) < CLEAR) for a, b in pairs),
        sum(_leaves(x.box, layout) for x in layout.labels),
    )


def _leaves(box: Box, layout: Layout) -> bool:
    inside = box.left >= 0 and box.top >= 0 and box.right <= layout.width and box.bottom <= layout.height
    return not inside or box.meets(layout.picture)


def near_others(labels: Sequence[Label], near: float) -> int:
    """Leaders that run closer than `near` to another item, one that is not itself as close to theirs."""

    def points_at(a: Label, o: Label) -> bool:
        return hypot(o.at[0] - a.at[0], o.at[1] - a.at[1]) >= near > distance(o.at, a.at, a.end)

    return sum(any(points_at(a, o) for o in labels) for a in labels)


def along_edges(labels: Sequence[Label]) -> int:
    """Leaders within 6° of an edge of the picture."""
    spans = ((abs(a.at[0] - a.end[0]), abs(a.at[1] - a.end[1])) for a in labels)
    return sum(min(s) <= 0.1051 * max(s) for s in spans)
