"""What a leader costs: its length, each other item it seems to point at, and lying along the edges of the picture."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from kilter.picture.callouts.geometry import Place, Segment, meet, passes

NEAR = 2.0
"""Cost of one item too near, in widths of the picture: more than any leader is long."""
ALONG = 0.06
"""Cost of a leader along an edge, in widths of the picture."""
FLAT = 0.1051
"""Tangent of 6°: nearer to the horizontal or vertical, a leader looks like a line of the drawing."""


class Costs:
    """Every leader that could be drawn, worked out once; items and places by their index."""

    def __init__(self, items: Sequence[Place], places: Sequence[Place], wide: float, reach: int) -> None:
        self.items, self.places = items, places
        self._wide, self._reach = wide, reach
        self.lengths = [[length((a, p)) for p in places] for a in items]
        self.table = [[self._cost(i, p) for p in range(len(places))] for i in range(len(items))]
        self._met: dict[tuple[int, int, int, int], bool] = {}

    def segment(self, item: int, place: int) -> Segment:
        return self.items[item], self.places[place]

    def near(self, item: int, place: int) -> int:
        """How many other items the leader comes too close to."""
        here, segment = self.items[item], self.segment(item, place)
        reach = self._reach
        return sum(passes(segment, other, reach) for other in self.items if other != here)

    def _cost(self, item: int, place: int) -> float:
        extra = NEAR * self.near(item, place) + ALONG * along_edge(self.segment(item, place))
        return self.lengths[item][place] + self._wide * extra

    def total(self, held: Sequence[int]) -> float:
        """Of a whole figure."""
        return sum(self.table[i][p] for i, p in enumerate(held))

    def clash(self, i: int, p: int, j: int, q: int) -> bool:
        """Whether the leader of i to p and that of j to q have a point in common."""
        key = (i, p, j, q) if i < j else (j, q, i, p)
        found = self._met.get(key)
        if found is None:
            found = self._met[key] = meet(self.segment(i, p), self.segment(j, q))
        return found

    def clashes(self, held: Sequence[int]) -> list[tuple[int, int]]:
        """The pairs of items whose leaders meet."""
        n = len(held)
        return [(i, j) for i in range(n) for j in range(i + 1, n) if self.clash(i, held[i], j, held[j])]


def length(segment: Segment) -> float:
    """In hundredths; a square root is the same on every machine, which `hypot` is not."""
    (ax, ay), (bx, by) = segment
    return sqrt((bx - ax) ** 2 + (by - ay) ** 2)


def along_edge(segment: Segment) -> bool:
    """Whether a leader is within 6° of the horizontal or vertical."""
    (ax, ay), (bx, by) = segment
    dx, dy = abs(bx - ax), abs(by - ay)
    return min(dx, dy) <= FLAT * max(dx, dy)
