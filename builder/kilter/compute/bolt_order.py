"""The order in which the bolts of a pattern are tightened, in passes.

Circle: crosswise, so that load goes on evenly; the published order of 12 bolts is met, and the star order of
circles by fours that flange guidelines call the legacy pattern. Rectangle and line: from the middle outwards,
crosswise; common practice, no source. Passes 30, 60, 100 % and once round again: the same published practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import cos, hypot, pi, sin
from typing import Literal

Shape = Literal["circle", "rectangle", "line"]

PASSES = (Fraction(30, 100), Fraction(60, 100), Fraction(1))
MOST = 96
"""Bolts of a pattern; more is a slip."""


@dataclass(frozen=True, slots=True)
class Bolt:
    """One bolt of a drawing that is 2 wide and 2 high, its middle at 0, 0, y upwards."""

    number: int
    x: float
    y: float


def order(bolts: list[Bolt], shape: Shape) -> tuple[int, ...]:
    """Numbers of the bolts in the order of tightening."""
    return circle_order(len(bolts)) if shape == "circle" else outward_order(bolts)


def circle(count: int) -> list[Bolt]:
    """Bolts numbered clockwise from the top."""
    turn = 2 * pi / count
    return [Bolt(i + 1, sin(i * turn), cos(i * turn)) for i in range(count)]


def line(count: int) -> list[Bolt]:
    """Bolts numbered from the left."""
    return [Bolt(i + 1, _place(i, count), 0.0) for i in range(count)]


def grid(rows: int, columns: int, frame: bool = False) -> list[Bolt]:
    """Bolts numbered row by row from the top left; a frame has none inside its edge."""
    found: list[Bolt] = []
    for row in range(rows):
        for column in range(columns):
            if not frame or row in (0, rows - 1) or column in (0, columns - 1):
                found.append(Bolt(len(found) + 1, _place(column, columns), -_place(row, rows)))
    return found


def _place(index: int, count: int) -> float:
    return 0.0 if count == 1 else 2 * index / (count - 1) - 1


def circle_order(count: int) -> tuple[int, ...]:
    """Fours at right angles, else opposite pairs, else (odd) the star that steps nearly half round."""
    if count % 2:
        step = max(1, (count - 1) // 2)
        return tuple(i * step % count + 1 for i in range(count))
    size = 4 if count % 4 == 0 else 2
    groups = count // size
    spots = (0, count // 2, count // 4, 3 * count // 4)[:size]
    return tuple(start + spot + 1 for start in _starts(groups) for spot in spots)


def _starts(groups: int) -> list[int]:
    """Where the fours begin: far from the one before; three or fewer go round, as published for 12 bolts."""
    if groups <= 3:
        return list(range(groups))
    if groups % 2:
        return [*range(0, groups, 2), *range(1, groups, 2)]
    return [i for first in range(groups // 2) for i in (first, first + groups // 2)]


def outward_order(bolts: list[Bolt]) -> tuple[int, ...]:
    """From the middle outwards; of those equally far out, next the one farthest from the last."""
    left = list(bolts)
    found: list[Bolt] = []
    while left:
        nearest = min(_out(b) for b in left)
        ring = [b for b in left if _out(b) <= nearest + 1e-9]
        chosen = ring[0] if not found else max(ring, key=lambda b: (_apart(b, found[-1]), -b.number))
        left.remove(chosen)
        found.append(chosen)
    return tuple(b.number for b in found)


def _out(bolt: Bolt) -> float:
    return round(hypot(bolt.x, bolt.y), 9)


def _apart(one: Bolt, other: Bolt) -> float:
    return round(hypot(one.x - other.x, one.y - other.y), 9)
