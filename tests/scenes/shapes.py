"""Plain solids from few numbers: boxes, rods, tubes, plates, springs."""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, degrees, pi, sin

from build123d import (
    Align,
    Axis,
    Box,
    Circle,
    Compound,
    Cylinder,
    Face,
    Plane,
    Polyline,
    Pos,
    Rectangle,
    RectangleRounded,
    Rot,
    Spline,
    Torus,
    Vector,
    Wire,
    extrude,
    fillet,
    sweep,
)

from .scene import Point, Solid

Span = tuple[float, float]


def box(x: Span, y: Span, z: Span, round_: float = 0, along: str = "z") -> Solid:
    """A block; its four edges along one axis are rounded by `round_`."""
    sides = [b - a for a, b in (x, y, z)]
    block = Pos(x[0], y[0], z[0]) * Box(*sides, align=(Align.MIN,) * 3)
    if not round_:
        return block
    axis = {"x": Axis.X, "y": Axis.Y, "z": Axis.Z}[along]
    return fillet(block.edges().filter_by(axis), round_)


def soft(x: Span, y: Span, z: Span, round_: float) -> Solid:
    """A block with all edges rounded, as of moulded plastic."""
    block = box(x, y, z)
    return fillet(block.edges(), round_)


def rod(axis: str, at: Span, radius: float, span: Span) -> Solid:
    """A cylinder along an axis; `at` are the two other coordinates in the order x, y, z."""
    low, high = span
    body = Cylinder(radius, high - low, align=(Align.CENTER, Align.CENTER, Align.MIN))
    if axis == "z":
        return Pos(at[0], at[1], low) * body
    if axis == "x":
        return Plane((low, at[0], at[1]), x_dir=(0, 1, 0), z_dir=(1, 0, 0)) * body
    return Plane((at[0], low, at[1]), x_dir=(1, 0, 0), z_dir=(0, 1, 0)) * body


def ring(axis: str, at: Span, radius: float, bore: float, span: Span) -> Solid:
    """A tube or washer."""
    return rod(axis, at, radius, span) - rod(axis, at, bore, (span[0] - 1, span[1] + 1))


def bar(a: Point, b: Point, radius: float) -> Solid:
    """A round bar between two points."""
    way = Vector(*b) - Vector(*a)
    body = Cylinder(radius, way.length, align=(Align.CENTER, Align.CENTER, Align.MIN))
    return Plane(a, z_dir=way) * body


def beam(a: Point, b: Point, wide: float, high: float, round_: float = 0) -> Solid:
    """A square bar between two points, `wide` across and `high` upright."""
    way = Vector(*b) - Vector(*a)
    across = Vector(0, 0, 1).cross(way)
    flat = Plane(a, x_dir=across if across.length > 1e-6 else Vector(1, 0, 0), z_dir=way)
    face = RectangleRounded(wide, high, round_) if round_ else Rectangle(wide, high)
    return extrude(flat * face, way.length)


def plate(axis: str, outline: Sequence[Span], span: Span, round_: float = 0) -> Solid:
    """A sheet cut to an outline (the two other coordinates in the order x, y, z), thick over `span`."""
    low, high = span
    where = {
        "x": lambda u, v: (low, u, v),
        "y": lambda u, v: (u, low, v),
        "z": lambda u, v: (u, v, low),
    }[axis]
    face = Face(Wire(Polyline(*[where(u, v) for u, v in outline], close=True).edges()))
    way = {"x": (1, 0, 0), "y": (0, 1, 0), "z": (0, 0, 1)}[axis]
    body = extrude(face, high - low, dir=way)
    if round_:
        name = {"x": Axis.X, "y": Axis.Y, "z": Axis.Z}[axis]
        body = fillet(body.edges().filter_by(name), round_)
    return body


def slot(axis: str, a: Span, b: Span, wide: float, span: Span) -> Solid:
    """A long hole as a solid, to be taken away; `a` and `b` are the middles of its round ends."""
    ends = rod(axis, a, wide / 2, span) + rod(axis, b, wide / 2, span)
    du, dv = b[0] - a[0], b[1] - a[1]
    long = (du * du + dv * dv) ** 0.5
    nu, nv = -dv / long * wide / 2, du / long * wide / 2
    corners = [(a[0] + nu, a[1] + nv), (b[0] + nu, b[1] + nv), (b[0] - nu, b[1] - nv), (a[0] - nu, a[1] - nv)]
    return ends + plate(axis, corners, span)


def cable(points: Sequence[Point], radius: float, straight: bool = False) -> Solid:
    """A cable, hose or bent tube through the points."""
    way = Polyline(*points) if straight else Spline(*points)
    start = Plane(way @ 0, z_dir=way % 0)
    return sweep(start * Circle(radius), path=way)


def coil(at: Point, axis: str, radius: float, wire: float, long: float, turns: int) -> Solid:
    """A coil spring along an axis, as leaning rings: true helices take the hidden lines a minute."""
    way = {"x": (1, 0, 0), "y": (0, 1, 0), "z": (0, 0, 1)}[axis]
    pitch = long / turns
    lean = degrees(atan2(pitch / 2, 2 * radius))
    one = Rot(0, lean, 0) * Torus(radius, wire)
    steps = [wire + pitch * (i + 0.5) for i in range(turns)]
    return Compound(
        [Plane(tuple(c + s * w for c, w in zip(at, way, strict=True)), z_dir=way) * one for s in steps]
    )


def hexagon(axis: str, at: Span, across: float, span: Span) -> Solid:
    """A nut's body, `across` its flats."""
    r = across / 3**0.5
    return plate(axis, [(at[0] + r * cos(i * pi / 3), at[1] + r * sin(i * pi / 3)) for i in range(6)], span)
