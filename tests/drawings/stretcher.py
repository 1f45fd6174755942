"""The transport stretcher: its rail latch switch and the foot of its column."""

from __future__ import annotations

from .pen import Sheet, View, curve
from .shapes import DARK, SHADE, box, cylinder, hexagon, mark, prism, ring, rounded, screw


def rail_switch() -> Sheet:
    """The latch switch on its slotted bracket, rail latched up."""
    view = View(yaw=28, pitch=22, zoom=3.55, about=(4, 10, 8))
    s = Sheet(view)
    s.part(prism(view, "y", rounded((-110, 100), (-78, 96), 10), 20, 28, smooth=True))
    for x, z in ((-98.0, 84.0), (88.0, 84.0), (-98.0, -66.0), (88.0, -66.0)):
        mark(s, "y", [(p[0], p[2]) for p in ring("y", (x, z), 5, 20)], 20, DARK)
    shape = [(-58, -34), (22, -34), (22, -62), (74, -62), (74, 52), (22, 52), (22, 24), (-58, 24)]
    s.part(prism(view, "y", shape, 14, 20))
    for z in (26, -36):
        mark(s, "y", rounded((43, 53), (z - 17, z + 17), 5), 14, DARK)
        s.part(cylinder(view, "y", (48, z), 10.5, 12.4, 14), weight=2)
        screw(s, "y", (48, z), 7.5, 5.5, 12.4)
    _switch(s)
    s.part(box(view, (4, 42), (-4, 20), (58, 78)))
    s.part(cylinder(view, "z", (23, 7), 8, 78, 108))
    s.part(cylinder(view, "z", (23, 7), 10, 105, 110))
    for x in (8.5, 37.5):
        screw(s, "y", (x, 68), 3, -6, -4)
    s.item("Switch body", (-38, 0, -20))
    s.item("Roller lever", (-4, 3, 22.5))
    s.item("Upper bracket screw", (53, 5.5, 26))
    s.item("Lower bracket screw", (53, 5.5, -36))
    s.item("Slotted bracket", (66, 14, -2))
    s.item("Latch pin", (23, 0, 92))
    s.item("Switch lead", (-14, 2, -57))
    return s


def _switch(s: Sheet) -> None:
    view = s.view
    lead = curve([(-38, 7, -38), (-37, 4, -48), (-22, 2, -56), (6, 0, -58), (24, 0, -70), (40, 0, -84)])
    s.tube(lead, 5)
    s.tube(curve([(-16, 7, -38), (-18, 5, -46), (-12, 3, -53), (-2, 1, -57)]), 3)
    s.tube(lead[30:], 6.5)
    s.part(prism(view, "y", [(32, -90), (48, -90), (48, -78), (32, -78)], -5, 6))
    for x in (-40.0, -18.0, 2.0):
        s.part(box(view, (x, x + 5), (5, 9), (-40, -28)), weight=1.8)
    s.part(cylinder(view, "z", (23, 7), 8, 38, 60))
    s.part(prism(view, "y", rounded((-50, 16), (-30, 8), 3), 0, 14, smooth=True))
    for x in (-42, 8):
        mark(s, "y", [(p[0], p[2]) for p in ring("y", (x, -22 if x < 0 else 0), 4, 0)], 0, SHADE)
    s.line([(-50, 0, -9), (16, 0, -9)])
    s.part(box(view, (-6, 0), (4, 10), (8, 13)), weight=1.6)
    lever = [(-46, 8), (-42, 8), (-42, 12), (17, 26), (22, 25), (23, 28), (17, 29), (-44, 14.6), (-46, 12)]
    s.part(prism(view, "y", lever, 3, 11), weight=2.2)
    s.part(cylinder(view, "y", (23, 31), 7, 2.5, 11.5))
    s.part(cylinder(view, "y", (23, 31), 2.5, 0.5, 2.5), weight=1.6)


def column_foot() -> Sheet:
    """The hydraulic column's foot with pump, hose, relief valve and test point."""
    view = View(yaw=24, pitch=24, zoom=1.62, about=(30, 0, 105))
    s = Sheet(view)
    s.part(box(view, (-190, 250), (-120, 120), (-14, 0)))
    for x, y in ((-170, -100), (230, -100), (230, 100), (-170, 100)):
        s.part(cylinder(view, "z", (x, y), 9, 0, 5), weight=1.8)
    s.tube(curve([(-130, 46, 26), (-96, 34, 34), (-60, 28, 34)]), 13)
    s.part(cylinder(view, "z", (-140, 50), 30, 0, 150))
    s.part(cylinder(view, "z", (-140, 50), 30, 150, 176, end=0.45))
    s.part(cylinder(view, "z", (-140, 50), 8, 174, 184), weight=2)
    s.part(cylinder(view, "z", (-30, 0), 78, 0, 14))
    for x, y in ((-92, -30), (-30, -68), (32, -30)):
        screw(s, "z", (x, y), 7, 14, 21)
    s.part(cylinder(view, "z", (-30, 0), 58, 14, 150))
    s.part(cylinder(view, "z", (-30, 0), 64, 150, 176))
    s.part(cylinder(view, "z", (-30, 0), 45, 176, 262))
    s.part(cylinder(view, "z", (-30, 0), 37, 262, 312))
    _pump(s)
    s.part(cylinder(view, "y", (-62, 44), 11, -70, -48))
    s.part(prism(view, "y", hexagon((-62, 44), 13), -82, -70), weight=2.2)
    s.part(cylinder(view, "y", (-62, 44), 9, -104, -82))
    for y in (-88, -92, -96, -100):
        s.line([p for p in ring("y", (-62, 44), 9, y) if p[2] < 50 and p[0] < -56])
    s.item("Column", (-44, -40, 222))
    s.item("Accumulator", (-150, 25, 110))
    s.item("Relief valve", (118, -84, 30))
    s.item("Column test point", (-62, -104, 44))
    s.item("Column hose", (86, -86, 133))
    s.item("Fitting at the column", (-4, -77, 96))
    s.item("Fitting at the pump", (166, -30, 104))
    s.item("Pump block", (196, -60, 50))
    return s


def _pump(s: Sheet) -> None:
    view = s.view
    s.part(cylinder(view, "y", (160, 42), 36, 40, 118))
    s.part(box(view, (96, 222), (-60, 40), (0, 82)))
    s.line([(96, -60, 16), (222, -60, 16)])
    for x in (104, 214):
        screw(s, "y", (x, 70), 5, -65, -60)
    s.part(prism(view, "z", hexagon((160, -10), 15), 82, 94), weight=2.2)
    s.part(prism(view, "y", hexagon((-6, 96), 15), -68, -56), weight=2.2)
    route = curve(
        [
            (-6, -84, 96),
            (-4, -112, 98),
            (26, -128, 112),
            (86, -100, 140),
            (140, -40, 154),
            (160, -10, 138),
            (160, -10, 118),
        ]
    )
    s.tube(route, 17)
    s.part(cylinder(view, "z", (160, -10), 11.5, 94, 122), weight=2.2)
    s.part(prism(view, "z", hexagon((160, -10), 14), 94, 108), weight=2.2)
    s.part(cylinder(view, "y", (-6, 96), 11.5, -98, -68), weight=2.2)
    s.part(prism(view, "y", hexagon((-6, 96), 14), -82, -68), weight=2.2)
    s.part(prism(view, "y", hexagon((118, 30), 14), -68, -60), weight=2.2)
    s.part(cylinder(view, "y", (118, 30), 9, -84, -68), weight=2.2)
    mark(s, "y", hexagon((118, 30), 5), -84, DARK)
