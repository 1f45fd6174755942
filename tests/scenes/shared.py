"""Parts that every machine has: screws, castors, switches' plugs, padlocks, pins, cables with their plugs."""

from __future__ import annotations

from math import cos, radians, sin

from build123d import Location, Pos, Rot, Torus

from .scene import Part, Point, Solid
from .shapes import Span, box, cable, hexagon, plate, ring, rod, soft

RUBBER = 150
METAL = 222
CABLE = 190
SHADE = 236


def cap_screw(axis: str, at: Span, head: float, top: float, length: float = 0, out: int = 1) -> Solid:
    """A socket-head screw whose head ends at `top`; `out` is the way its head looks along the axis."""
    high = head * 0.62
    body = rod(axis, at, head / 2, _span(top - out * high, top))
    body -= hexagon(axis, at, head * 0.5, _span(top - out * high * 0.6, top + out))
    if length:
        body += rod(axis, at, head * 0.29, _span(top - out * (high + length), top - out * high))
    return body


def pan_screw(axis: str, at: Span, head: float, top: float, length: float = 0, out: int = 1) -> Solid:
    """A cross-head screw."""
    high = head * 0.32
    body = rod(axis, at, head / 2, _span(top - out * high, top))
    deep = _span(top - out * high * 0.55, top + out)
    for along in (0, 1):
        half = (head * 0.3, head * 0.07)[:: 1 if along else -1]
        corners = [(at[0] - half[0], at[1] - half[1]), (at[0] + half[0], at[1] - half[1]),
                   (at[0] + half[0], at[1] + half[1]), (at[0] - half[0], at[1] + half[1])]  # fmt: skip
        body -= plate(axis, corners, deep)
    if length:
        body += rod(axis, at, head * 0.27, _span(top - out * (high + length), top - out * high))
    return body


def _span(a: float, b: float) -> Span:
    return (a, b) if a < b else (b, a)


def castor(name: str, at: Point, wheel: float = 50, yaw: float = 20, brake: float = 0) -> list[Part]:
    """A swivel castor whose plate lies under `at`; the wheel stands on the floor `at[2]` below; `brake` is how far its
    pedal reaches, in parts of the wheel's radius."""
    r, (x, y, z) = wheel, at
    wide = r * 0.5
    trail = r * 0.45
    wheel_solid = rod("y", (0, 0), r, (-wide / 2, wide / 2)) - ring(
        "y", (0, 0), r * 0.72, r * 0.3, (wide / 2 - 3, wide)
    )
    wheel_solid -= ring("y", (0, 0), r * 0.72, r * 0.3, (-wide, -wide / 2 + 3))
    fork: Solid = None
    for side in (-1, 1):
        low, high = _span(side * (wide / 2 + 2), side * (wide / 2 + 6))
        cheek = plate(
            "y",
            [
                (-r * 0.28, -r * 0.2),
                (r * 0.28, -r * 0.2),
                (trail + r * 0.42, r * 1.22),
                (trail - r * 0.42, r * 1.22),
            ],
            (low, high),
        )
        fork = cheek if fork is None else fork + cheek
    fork += box((trail - r * 0.42, trail + r * 0.42), (-wide / 2 - 6, wide / 2 + 6), (r * 1.16, r * 1.24))
    fork += rod("z", (trail, 0), r * 0.26, (r * 1.24, max(z - r, r * 1.3)))
    axle = rod("y", (0, 0), r * 0.16, (-wide / 2 - 10, wide / 2 + 10))
    solids = [(name + " tyre", wheel_solid, 205), (name, fork, 255), (name, axle, 255)]
    if brake:
        pedal = box((-r * brake, -r * 0.3), (-wide * 0.42, wide * 0.42), (r * 1.02, r * 1.14), 4)
        pedal = Rot(0, 14, 0) * pedal
        solids.append((name.removesuffix("s") + " brake", pedal, 200))
    turn = Rot(0, 0, yaw)
    back = Pos(-trail, 0, 0)
    place = Pos(x, y, r)
    return [Part(n, place * turn * back * s, tone) for n, s, tone in solids]


def padlock(at: Point, size: float = 40, yaw: float = 0, lean: float = 0) -> list[Part]:
    """A padlock hanging from a hole: `at` is the middle of the shackle's bow."""
    s = size
    body = soft((-s / 2, s / 2), (-s * 0.22, s * 0.22), (-s * 1.45, -s * 0.55), s * 0.06)
    body -= rod("y", (0, -s * 1.02), s * 0.09, (-s * 0.3, -s * 0.19))
    bow_points = [(-s * 0.3, 0, -s * 0.6), (-s * 0.3, 0, -s * 0.12)]
    bow_points += [
        (s * 0.3 * cos(radians(a)), 0, -s * 0.12 + s * 0.3 * sin(radians(a))) for a in range(165, 10, -15)
    ]
    bow_points += [(s * 0.3, 0, -s * 0.12), (s * 0.3, 0, -s * 0.6)]
    bow = cable(bow_points, s * 0.085, straight=False)
    place = Location(at) * Rot(0, lean, yaw) * Pos(0, 0, -s * 0.18)
    return [Part("Padlock", place * body, SHADE), Part("Padlock", place * bow)]


def mains_plug(name: str, at: Point, yaw: float = 0) -> list[Part]:
    """A mains plug, two round pins forward (-y), cable behind."""
    grip = soft((-19, 19), (0, 16), (-19, 19), 5) + box((-12, 12), (14, 46), (-11, 11), 5, "y")
    pins = rod("y", (-9.5, 0), 2.4, (-19, 0)) + rod("y", (9.5, 0), 2.4, (-19, 0))
    relief = rod("y", (0, 0), 6.5, (46, 66))
    place = Location(at) * Rot(0, 0, yaw)
    return [
        Part(name, place * grip, SHADE),
        Part(name, place * pins, METAL),
        Part(name, place * relief, CABLE),
    ]


def split_pin(at: Point, axis: str, radius: float, span: Span, loop: float = 14) -> Solid:
    """A locking pin with a pull ring at the low end of its span."""
    u, v = {"x": (at[1], at[2]), "y": (at[0], at[2]), "z": (at[0], at[1])}[axis]
    pin = rod(axis, (u, v), radius, span) + rod(axis, (u, v), radius * 1.7, (span[0] - 4, span[0]))
    middle = {
        "x": (span[0] - 4 - loop, u, v),
        "y": (u, span[0] - 4 - loop, v),
        "z": (u, v, span[0] - 4 - loop),
    }[axis]
    turn = {"x": Rot(90, 0, 0), "y": Rot(0, 90, 0), "z": Rot(0, 90, 0)}[axis]
    return pin + Location(middle) * turn * Torus(loop, radius * 0.45)


def stop_button(name: str, axis: str, at: Span, face: float, out: int, radius: float = 16) -> list[Part]:
    """A red mushroom button on a round collar."""
    collar = rod(axis, at, radius * 1.15, _span(face, face + out * 6))
    neck = rod(axis, at, radius * 0.6, _span(face + out * 6, face + out * 14))
    head = rod(axis, at, radius, _span(face + out * 14, face + out * 24))
    return [Part(name + " collar", collar), Part(name, neck, 170), Part(name, head, 170)]
