"""The order in which bolts are tightened: each bolt with its number inside and its turn beside it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import atan2, cos, dist, hypot, sin
from typing import Any

from kilter.publish.drawings.ink import LINE, WIDTH, Picture, drawing, ring, width_of, words

RADIUS = 14.0
TURN = 15.0
"""Size of the letters that say a bolt's turn."""
LEAST = 2 * RADIUS + 2
"""Between the middles of two bolts."""
MIDDLE = WIDTH / 2

Place = tuple[float, float]


def ordinal(n: int) -> str:
    """`1st`, `2nd`: a turn can't be taken for a bolt's number."""
    if n % 100 in (11, 12, 13):
        return f"{n}th"
    return f"{n}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(n % 10, 'th') }"


def bolts(given: Mapping[str, Any]) -> Picture | None:
    """Needs `shape` and `bolts` with `number`, `x`, `y`, `turn`. None where they are too many to be read."""
    every: Sequence[Mapping[str, Any]] = given["bolts"]
    circle = given["shape"] == "circle"
    places, height = _circle(every) if circle else _grid(every)
    turns = _beside(places, every) if circle else _below(places)
    if _crowded(places, turns, every):
        return None
    marks = []
    for bolt, (x, y), (tx, ty) in zip(every, places, turns, strict=True):
        marks += [ring(x, y, RADIUS), words(x, y + 6, str(bolt["number"]), "middle")]
        marks.append(words(tx, ty + 5, ordinal(bolt["turn"]), "middle", bold=True, size=TURN))
    order = sorted(every, key=lambda b: int(b["turn"]))
    said = "Order of the bolts: " + ", ".join(f"{ordinal(b['turn'])} bolt {b['number']}" for b in order)
    return drawing(height + 2 * LINE, said, *marks, *_key(height + LINE))


def _key(y: float) -> list[str]:
    rows = ("In the ring: the bolt's number.", "Beside it: when it is tightened.")
    return [words(0, y - 4, rows[0]), words(0, y + LINE - 4, rows[1])]


def _circle(every: Sequence[Mapping[str, Any]]) -> tuple[list[Place], float]:
    """As seen from the side of the heads, the first at the top."""
    reach = MIDDLE - RADIUS - 42
    middle = reach + RADIUS + 28
    return [(MIDDLE + b["x"] * reach, middle - b["y"] * reach) for b in every], 2 * middle


def _beside(places: Sequence[Place], every: Sequence[Mapping[str, Any]]) -> list[Place]:
    """Outside the circle, further out where the words lie along the way."""
    found = []
    for (x, y), bolt in zip(places, every, strict=True):
        way = atan2(bolt["y"], bolt["x"]) if hypot(bolt["x"], bolt["y"]) > 0 else 0.0
        by = RADIUS + 11 + 11 * abs(cos(way))
        found.append((x + by * cos(way), y - by * sin(way)))
    return found


def _grid(every: Sequence[Mapping[str, Any]]) -> tuple[list[Place], float]:
    """Rows from the top, columns from the left, at the same distance each."""
    columns, rows = (sorted({round(b[k], 6) for b in every}) for k in ("x", "y"))
    across = min(76.0, (WIDTH - 2 * RADIUS - 16) / max(len(columns) - 1, 1))
    left = MIDDLE - across * (len(columns) - 1) / 2
    down = 2 * RADIUS + 30
    places = [
        (left + across * columns.index(round(b["x"], 6)),
         RADIUS + 4 + down * (len(rows) - 1 - rows.index(round(b["y"], 6))))
        for b in every
    ]  # fmt: skip
    return places, down * len(rows) + 4


def _below(places: Sequence[Place]) -> list[Place]:
    return [(x, y + RADIUS + 13) for x, y in places]


def _crowded(places: Sequence[Place], turns: Sequence[Place], every: Sequence[Mapping[str, Any]]) -> bool:
    """Whether bolts or words would touch; then the order in words has to do."""
    if any(dist(a, b) < LEAST for a, b in combinations(places, 2)):
        return True
    boxes = [_box(at, ordinal(b["turn"])) for at, b in zip(turns, every, strict=True)]
    if any(_meet(a, b) for a, b in combinations(boxes, 2)):
        return True
    return any(b[0] < 0 or b[2] > WIDTH for b in boxes)


def _box(at: Place, said: str) -> tuple[float, float, float, float]:
    half = width_of(said, TURN) / 2
    return at[0] - half, at[1] - TURN / 2, at[0] + half, at[1] + TURN / 2


def _meet(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
