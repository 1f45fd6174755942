"""Solids for the pen: boxes, extruded outlines, cylinders, screws, coils. Lengths in millimetres."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin

from .pen import PAPER, Patch, Point, Sheet, Spot, View, hull

SHADE = 238
DARK = 204
Flat = Sequence[tuple[float, float]]


def place(axis: str, u: float, v: float, w: float) -> Point:
    """A point from two coordinates across an axis and one along it."""
    return {"x": (w, u, v), "y": (u, w, v), "z": (u, v, w)}[axis]


def face(view: View, points: Sequence[Point], tone: int = PAPER, edge: bool = True) -> Patch:
    """One flat face."""
    near = sum(view.near(p) for p in points) / len(points)
    return Patch(tuple(view.flat(p) for p in points), near, tone, edge)


def prism(view: View, axis: str, shape: Flat, low: float, high: float, smooth: bool = False) -> list[Patch]:
    """An outline drawn out along an axis; `smooth` leaves out the edges between its sides."""
    tone = SHADE if axis != "x" else PAPER
    ends = [[place(axis, u, v, w) for u, v in shape] for w in (low, high)]
    a, b = sorted(ends, key=lambda end: view.near(end[0]))
    sides = [
        face(
            view,
            [a[i - 1], a[i], b[i], b[i - 1]],
            tone if _upright(axis, a[i - 1], a[i]) else PAPER,
            not smooth,
        )
        for i in range(len(shape))
    ]
    top = face(view, b, SHADE if axis == "x" else PAPER)
    rear = face(view, a)
    lift = max(s.near for s in sides) + 1
    return [Patch(rear.spots, min(s.near for s in sides) - 1), *sides, Patch(top.spots, lift, top.tone)]


def _upright(axis: str, a: Point, b: Point) -> bool:
    """Whether a side looks along x (those sides are shaded)."""
    return abs(a[0] - b[0]) < 0.3 * (abs(a[1] - b[1]) + abs(a[2] - b[2])) and axis != "x"


def box(view: View, x: Spot, y: Spot, z: Spot) -> list[Patch]:
    """A box from its three spans."""
    return prism(view, "y", [(x[0], z[0]), (x[1], z[0]), (x[1], z[1]), (x[0], z[1])], *y)


def ring(axis: str, mid: Spot, r: float, w: float, n: int = 72) -> list[Point]:
    """Points round a circle."""
    return [
        place(axis, mid[0] + r * cos(2 * pi * i / n), mid[1] + r * sin(2 * pi * i / n), w) for i in range(n)
    ]


def cylinder(
    view: View, axis: str, mid: Spot, r: float, low: float, high: float, end: float = 1
) -> list[Patch]:
    """A round bar, or a cone frustum where the high end has `end` times the radius."""
    a, b = ring(axis, mid, r, low), ring(axis, mid, r * end, high)
    side = Patch(hull([view.flat(p) for p in a + b]), 0, PAPER, False)
    cap = max((a, b), key=lambda c: view.near(place(axis, *mid, low if c is a else high)))
    return [side, Patch(tuple(view.flat(p) for p in cap), 1)]


def hexagon(mid: Spot, r: float) -> list[Spot]:
    """A hexagon's corners."""
    return [(mid[0] + r * cos(pi * i / 3), mid[1] + r * sin(pi * i / 3)) for i in range(6)]


def rounded(x: Spot, z: Spot, r: float, n: int = 6) -> list[Spot]:
    """A rectangle with round corners."""
    out: list[Spot] = []
    for k, (cx, cz) in enumerate(
        [(x[1] - r, z[1] - r), (x[0] + r, z[1] - r), (x[0] + r, z[0] + r), (x[1] - r, z[0] + r)]
    ):
        for i in range(n + 1):
            a = pi / 2 * (k + i / n)
            out.append((cx + r * cos(a), cz + r * sin(a)))
    return out


def mark(sheet: Sheet, axis: str, shape: Flat, w: float, tone: int = PAPER) -> None:
    """A flat shape on a surface: a slot, a window, a recess; thin line only."""
    sheet.part([face(sheet.view, [place(axis, u, v, w) for u, v in shape], tone)], weight=0.5)


def screw(sheet: Sheet, axis: str, mid: Spot, r: float, low: float, high: float) -> None:
    """A cap screw head with its hexagon socket on the end nearer to the viewer."""
    view = sheet.view
    sheet.part(cylinder(view, axis, mid, r, low, high), weight=2.2)
    near = max((low, high), key=lambda w: view.near(place(axis, *mid, w)))
    mark(sheet, axis, hexagon(mid, r * 0.5), near, DARK)


def coil(
    sheet: Sheet, axis: str, mid: Spot, r: float, low: float, high: float, turns: int, wire: float
) -> None:
    """A coil spring: the far half turns first, the near ones over them."""
    pitch = (high - low) / turns

    def half(k: int) -> list[Point]:
        arc = [(k + i / 12) / 2 for i in range(13)]
        return [
            place(axis, mid[0] + r * cos(2 * pi * t), mid[1] + r * sin(2 * pi * t), low + pitch * t)
            for t in arc
        ]

    halves = [half(k) for k in range(2 * turns)]
    for points in sorted(halves, key=lambda row: sum(sheet.view.near(p) for p in row[3:10]) / 7):
        sheet.tube(points, wire)
