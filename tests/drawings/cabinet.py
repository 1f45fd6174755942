"""The warming cabinet: the door head with its switch, the element plate with its heat limit."""

from __future__ import annotations

from math import cos, pi, radians, sin

from .pen import Point, Sheet, Spot, View, curve
from .shapes import DARK, SHADE, box, cylinder, mark, prism, ring, rounded, screw


def door_switch() -> Sheet:
    """The door head with its cover off, the door ajar."""
    view = View(yaw=22, pitch=20, zoom=2.3, about=(8, 0, 6))
    s = Sheet(view)
    s.part(box(view, (-160, 170), (0, 120), (-104, -2)))
    mark(s, "y", [(-150, -100), (160, -100), (160, -8), (-150, -8)], 0, SHADE)
    s.part(box(view, (-160, 170), (0, 120), (0, 110)))
    mark(s, "y", rounded((-140, 60), (10, 98), 6), 0, 221)
    s.line([(-140, 0, 22), (-128, 0, 30), (-128, 0, 94)])
    s.line([(-128, 0, 30), (56, 0, 30)])
    _switch(s)
    s.part(prism(view, "y", rounded((78, 158), (14, 96), 6), -5, 0, smooth=True), weight=2)
    s.part(cylinder(view, "y", (100, 68), 11, -10, -5), weight=2)
    s.part(cylinder(view, "y", (100, 68), 7, -16, -10), weight=2)
    s.part(cylinder(view, "y", (136, 68), 10, -9, -5), weight=2)
    mark(s, "y", [(p[0], p[2]) for p in ring("y", (136, 68), 5, -9)], -9, DARK)
    for x in (100, 118, 136):
        mark(s, "y", rounded((x - 5, x + 5), (28, 36), 3), -5, SHADE)
    _door(s)
    return s


def _switch(s: Sheet) -> None:
    view = s.view
    for x, end in ((-78, -122), (-40, 30)):
        s.part(cylinder(view, "y", (end, 84), 7, -3, 0), weight=2)
        s.tube(curve([(x, -8, 80), (x, -10, 90), ((x + end) / 2, -8, 96), (end, -4, 88), (end, -4, 84)]), 5)
    s.part(prism(view, "y", rounded((-100, -20), (34, 70), 3), -16, 2, smooth=True))
    s.line([(-100, -16, 44), (-20, -16, 44)])
    for x in (-90, -30):
        screw(s, "y", (x, 54), 4.5, -20, -16)
    for x in (-84, -46):
        s.part(box(view, (x, x + 12), (-14, -2), (70, 80)), weight=2)
        screw(s, "y", (x + 6, 75), 3, -17, -14)
    s.part(cylinder(view, "z", (-60, -7), 5, 20, 34), weight=2.2)
    s.item("Door switch", (-60, -16, 58))
    s.item("Plunger", (-60, -12, 27))


def _turned(u: float, v: float, angle: float = 17) -> Spot:
    a = radians(angle)
    return (-160 + u * cos(a) + v * sin(a), -3 - u * sin(a) + v * cos(a))


def _door(s: Sheet) -> None:
    view = s.view
    slab = [_turned(u, v) for u, v in ((0, 0), (330, 0), (330, -34), (0, -34))]
    s.part(prism(view, "z", slab, -108, -4))
    foot = [_turned(u, v) for u, v in ((70, -8), (134, -8), (134, -28), (70, -28))]
    s.part(prism(view, "z", foot, -4, 1), weight=2.2)
    nose = [_turned(u, v) for u, v in ((92, -4), (112, -4), (112, -28), (92, -28))]
    s.part(prism(view, "z", nose, 1, 17), weight=2.2)
    for u in (81, 123):
        screw(s, "z", _turned(u, -18), 5, 1, 6)
    s.items += [("Striker", view.flat((*_turned(102, -28), 9)))]
    s.item("Terminals", (-40, -17, 75))
    s.item("Striker screws", (*_turned(123, -18), 6))
    s.item("Door edge", (*_turned(250, -17), -4))
    s.item("Limit key", (100, -16, 68))
    s.item("Thermometer port", (136, -9, 68))


def heat_limit() -> Sheet:
    """The element plate in the chamber's back wall, element cover off."""
    view = View(yaw=18, pitch=16, zoom=2.05, about=(0, 0, 0))
    s = Sheet(view)
    s.part(box(view, (-205, 215), (20, 40), (-150, 150)))
    s.part(prism(view, "y", rounded((-180, 60), (-125, 125), 6), 6, 20, smooth=True))
    for x, z in ((-168, 113), (48, 113), (-168, -113), (48, -113)):
        screw(s, "y", (x, z), 4.5, 1, 6)
    _element(s)
    _fan(s)
    _limit(s)
    s.item("Element plate", (-100, 6, 6))
    s.item("Heat limit", (-60, -14, -28))
    s.item("Heat limit screws", (-25, -2, -40))
    s.item("Heater terminals", (136, -4, -70))
    s.item("Push-on wires", (-44, -14, -75))
    s.item("Heater element", (-150, -4, 60))
    s.item("Fan opening", (172, 12, 84))
    return s


def _element(s: Sheet) -> None:
    xs = (-150, -114, -78, -42, -6, 30)
    path: list[Point] = [(xs[0], 0, -95)]
    for i, x in enumerate(xs):
        top, bottom = 88, 42 if 0 < i < 5 else -95
        ends = (bottom, top) if i % 2 == 0 else (top, bottom)
        path += [(x, 0, ends[0]), (x, 0, ends[1])]
        if i + 1 < len(xs):
            path += _bend(x, xs[i + 1], ends[1], 1 if i % 2 == 0 else -1)
    s.tube(path, 9)
    for x, z in ((-150, 0), (30, 0)):
        s.part(box(s.view, (x - 9, x + 9), (-7, 6), (z - 5, z + 5)), weight=1.8)


def _bend(a: float, b: float, z: float, way: int) -> list[Point]:
    r = (b - a) / 2
    return [(a + r - r * cos(pi * i / 12), 0, z + way * r * sin(pi * i / 12)) for i in range(13)]


def _fan(s: Sheet) -> None:
    mid = (140, 62)
    s.part(cylinder(s.view, "y", mid, 62, 12, 20))
    mark(s, "y", [(p[0], p[2]) for p in ring("y", mid, 54, 12)], 12, 221)
    for k in range(5):
        a = 2 * pi * k / 5
        blade = [(14, -0.3), (48, -0.15), (50, 0.25), (46, 0.5), (14, 0.5)]
        mark(s, "y", [(mid[0] + r * cos(a + t), mid[1] + r * sin(a + t)) for r, t in blade], 12)
    s.part(cylinder(s.view, "y", mid, 16, 8, 12), weight=2)
    for x, z in ((96, 18), (184, 18), (96, 106), (184, 106)):
        screw(s, "y", (x, z), 3.5, 8, 12)


def _limit(s: Sheet) -> None:
    view = s.view
    s.part(prism(view, "y", rounded((-108, -12), (-54, -26), 13), 3, 6, smooth=True), weight=2)
    for x in (-95, -25):
        screw(s, "y", (x, -40), 6, -3, 3)
    s.part(cylinder(view, "y", (-60, -40), 24, -14, 3))
    s.part(cylinder(view, "y", (-60, -40), 7, -20, -14), weight=2)
    s.part(box(view, (85, 190), (0, 20), (-90, -50)))
    for x in (102, 136, 170):
        screw(s, "y", (x, -70), 6, -5, 0)
    for x, z, end in ((-78, -60, 102), (-44, -62, 136)):
        s.part(box(view, (x - 4, x + 4), (-12, -8), (z - 10, z)), weight=1.8)
        drop = 96 if x < -60 else 76
        s.tube(
            curve(
                [
                    (x, -10, z - 18),
                    (x + 4, -12, -drop),
                    (10, -14, -drop - 4),
                    (70, -12, -drop - 6),
                    (end - 4, -8, -100),
                    (end, -4, -88),
                ]
            ),
            5,
        )
        s.part(box(view, (x - 6, x + 6), (-14, -6), (z - 20, z - 6)), weight=1.8)
