"""The patient lift with its covers off: the charge path, the base."""

from __future__ import annotations

from .pen import Point, Sheet, View, curve
from .shapes import DARK, SHADE, box, coil, cylinder, hexagon, mark, prism, ring, rounded, screw


def charge_path() -> Sheet:
    """From the dock plungers to the pack, with the covers drawn off."""
    view = View(yaw=24, pitch=18, zoom=1.38, about=(22, 0, 190))
    s = Sheet(view)
    s.part(prism(view, "y", rounded((-300, -200), (-6, 170), 10), -60, 60, smooth=True))
    s.part(cylinder(view, "z", (-250, -20), 12, 170, 180), weight=2.2)
    s.part(cylinder(view, "z", (-250, -20), 8, 180, 188), weight=2)
    for z in (52, 96):
        s.part(cylinder(view, "x", (-20, z), 15, -200, -190), weight=2.2)
        s.part(cylinder(view, "x", (-20, z), 9, -190, -160), weight=2.2)
    s.part(box(view, (-100, 330), (-80, 80), (-10, 6)))
    s.part(box(view, (110, 210), (10, 70), (6, 410)))
    s.line([(196, 10, 6), (196, 10, 410)])
    s.part(box(view, (-80, -30), (-55, 55), (6, 130)))
    for z in (46, 92):
        s.part(cylinder(view, "x", (-8, z), 15, -86, -80), weight=2.2)
        mark(s, "x", [(p[1], p[2]) for p in ring("x", (-8, z), 8, -86)], -86, SHADE)
    _wiring(s)
    s.item("Dock plungers", (-172, -25, 96))
    s.item("Dock lamp", (-250, -24, 184))
    s.item("Pads in the pad block", (-86, -8, 92))
    s.item("Charge lead", (60, -40, 30))
    s.item("Plug X4", (136, -8, 158))
    s.item("Fuse F2", (136, -12, 262))
    s.item("Jacks J1 to J3", (160, 2, 352))
    s.item("Pack", (300, -20, 270))
    return s


def _wiring(s: Sheet) -> None:
    view = s.view
    lead: list[Point] = [
        (-6, -30, 66),
        (14, -40, 40),
        (60, -40, 30),
        (105, -30, 36),
        (132, -10, 70),
        (136, -4, 120),
    ]
    for z, y in ((92, -30), (46, -30)):
        s.tube(curve([(-30, y, z), (-18, -30, z), (-8, -30, 68), (6, -36, 50)]), 5)
        s.part(cylinder(view, "x", (y, z), 6, -30, -26), weight=1.8)
    s.tube(curve(lead), 10)
    s.part(box(view, (20, 34), (-52, -24), (6, 44)), weight=2)
    s.part(box(view, (120, 152), (-14, 10), (118, 148)), weight=2.2)
    s.tube(curve([(136, -2, 172), (136, -4, 200), (136, -2, 226)]), 6)
    s.part(box(view, (116, 156), (-12, 10), (148, 174)), weight=2.2)
    s.tube(curve([(136, -2, 292), (130, -4, 306), (126, 4, 322)]), 6)
    s.tube(curve([(150, 0, 292), (190, -14, 306), (222, -14, 296), (250, 0, 276)]), 8)
    s.part(box(view, (112, 160), (-4, 10), (220, 300)), weight=2.2)
    s.part(cylinder(view, "z", (136, -12), 8, 232, 288), weight=2.2)
    for z in (232, 276):
        s.part(cylinder(view, "z", (136, -12), 10, z, z + 12), weight=2)
    s.part(prism(view, "y", rounded((112, 200), (324, 380), 5), 2, 10, smooth=True), weight=2.2)
    for x in (130, 156, 182):
        s.part(cylinder(view, "y", (x, 352), 9, -6, 2), weight=2)
        mark(s, "y", [(p[0], p[2]) for p in ring("y", (x, 352), 4, -6)], -6, DARK)
    s.part(prism(view, "y", rounded((236, 340), (120, 330), 14), -20, 60, smooth=True))
    s.line([(250, -20, 290), (326, -20, 290)])


def base() -> Sheet:
    """The base from above without its cover, the lead on its new route."""
    view = View(yaw=20, pitch=48, zoom=1.38, about=(5, -40, 20))
    s = Sheet(view)
    s.part(box(view, (-270, 270), (-120, 180), (-16, 0)))
    for x in (-270, 255):
        s.part(box(view, (x, x + 15), (-120, 180), (0, 34)), weight=2.2)
    s.part(box(view, (-255, 255), (168, 180), (0, 46)), weight=2.2)
    _spring(s)
    s.part(box(view, (-190, -110), (120, 166), (0, 56)))
    for x in (-170, -130):
        screw(s, "y", (x, 30), 7, 112, 120)
    s.part(box(view, (-20, 60), (60, 140), (0, 130)))
    mark(s, "z", [(-12, 68), (52, 68), (52, 132), (-12, 132)], 130, DARK)
    mark(s, "y", [(p[0], p[2]) for p in ring("y", (20, 30), 20, 60)], 60, DARK)
    s.tube(ring("y", (20, 30), 20, 58), 7)
    s.line([ring("y", (20, 30), 20, 58)[0], ring("y", (20, 30), 20, 58)[-1]], 4, 255)
    _lead(s)
    _linkage(s)
    s.item("Charge lead", (-75, 11, 16))
    s.item("Lead clip", (-166, 22, 21))
    s.item("Link bar", (-150, -108, 22))
    s.item("Spreader spring", (150, 62, 38))
    s.item("Tension nut", (150, 158, 34))
    s.item("Pad block", (-150, 135, 56))
    s.item("Edge grommet", (34, 56, 44))
    s.item("Cross tube", (190, -30, 46))
    return s


def _spring(s: Sheet) -> None:
    view = s.view
    s.part(box(view, (126, 174), (140, 150), (0, 56)), weight=2.2)
    s.part(prism(view, "y", hexagon((150, 26), 15), 150, 162), weight=2.2)
    s.tube([(150, 162, 26), (150, 190, 26)], 10)
    coil(s, "y", (150, 26), 17, 6, 132, 9, 6)


def _lead(s: Sheet) -> None:
    for x in (-170, -130):
        s.tube(curve([(x, 110, 26), (x, 96, 20), (-150, 76, 14), (-166, 56, 12)]), 6)
    route: list[Point] = [
        (-160, 66, 12),
        (-180, 36, 12),
        (-150, 14, 12),
        (-75, 10, 12),
        (-10, 12, 12),
        (18, 30, 18),
        (20, 64, 28),
    ]
    s.tube(curve(route), 11)
    for x, y in ((-168, 24), (-30, 11)):
        s.part(box(s.view, (x - 7, x + 7), (y - 12, y + 12), (0, 20)), weight=2)


def _linkage(s: Sheet) -> None:
    view = s.view
    s.part(cylinder(view, "x", (-30, 28), 18, -255, 255))
    for x in (-260, 210):
        s.part(prism(view, "z", [(x, -60), (x + 50, -60), (x + 50, -290), (x, -290)], 0, 30))
    for side in (-1, 1):
        bar = [(20 * side, -66), (20 * side, -92), (236 * side, -136), (236 * side, -110)]
        s.part(prism(view, "z", bar, 30, 40), weight=2.4)
        s.part(cylinder(view, "z", (236 * side, -123), 15, 30, 48), weight=2.2)
    s.part(prism(view, "z", rounded((-40, 40), (-104, -54), 14), 36, 52, smooth=True))
    for x in (-24, 24):
        s.part(cylinder(view, "z", (x, -79), 10, 52, 58), weight=2)
