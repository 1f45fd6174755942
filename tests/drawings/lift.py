"""The patient lift: the whole machine in its dock."""

from __future__ import annotations

from .pen import Sheet, View, curve
from .shapes import DARK, SHADE, box, cylinder, mark, prism, ring, rounded


def whole() -> Sheet:
    """The lift in its wall dock, boom raised, strut stand swung down."""
    view = View(yaw=26, pitch=16, zoom=0.4, about=(330, 0, 760))
    s = Sheet(view)
    s.part(prism(view, "y", rounded((-420, -300), (40, 420), 20), -140, 140, smooth=True))
    s.part(cylinder(view, "z", (-360, -60), 24, 420, 440), weight=2)
    for z in (130, 190):
        s.part(cylinder(view, "x", (0, z), 16, -300, -250), weight=2)
    _leg(s, 290)
    s.part(prism(view, "x", rounded((-330, 330), (60, 170), 30), -130, 20, smooth=True))
    s.part(box(view, (-150, -130), (-60, 60), (100, 215)), weight=2)
    s.part(box(view, (-70, 40), (-60, 60), (170, 1340)))
    s.line([(-70, -60, 420), (40, -60, 420)])
    _boom(s)
    _mast(s)
    _leg(s, -290)
    s.tube([(-130, -180, 110), (-215, -180, 95)], 26)
    s.part(box(view, (-270, -200), (-240, -120), (82, 100)), weight=2.2)
    s.item("Dock lamp", (-360, -60, 436))
    s.item("Pack", (-140, -75, 710))
    s.item("Red stop", (-115, -110, 905))
    s.item("Boom", (500, -45, 1462))
    s.item("Strut stand", (75, -60, 620))
    s.item("Stand pin", (75, -95, 1015))
    s.item("Leg pedal", (-235, -200, 100))
    s.item("Sling hooks", (985, -215, 1165))
    return s


def _leg(s: Sheet, y: float) -> None:
    view = s.view
    for x in (-60, 960):
        s.part(cylinder(view, "y", (x, 42), 42, y - 16, y + 16))
        s.part(cylinder(view, "y", (x, 42), 10, y - 22, y - 16), weight=1.6)
    s.part(prism(view, "y", rounded((-90, 1020), (80, 140), 24), y - 35, y + 35, smooth=True))


def _boom(s: Sheet) -> None:
    view = s.view
    s.tube([(55, 0, 900), (240, 0, 1130)], 70)
    s.tube([(240, 0, 1130), (400, 0, 1380)], 38)
    s.part(cylinder(view, "y", (60, 905), 22, -50, 50), weight=2.2)
    beam = [(-90, 1310), (-60, 1400), (900, 1555), (990, 1540), (990, 1500), (900, 1490), (40, 1330)]
    s.part(prism(view, "y", beam, -45, 45))
    s.part(cylinder(view, "y", (-25, 1345), 32, -70, 70))
    s.part(cylinder(view, "y", (400, 1425), 20, -58, 58), weight=2.2)
    s.tube([(950, 0, 1500), (950, 0, 1300)], 30)
    s.part(cylinder(view, "z", (950, 0), 34, 1290, 1340))
    bar = curve([(950, 260, 1200), (950, 230, 1260), (950, 0, 1290), (950, -230, 1260), (950, -260, 1200)])
    s.tube(bar, 40)
    for y in (260, -260):
        hook = [
            (950, y, 1200),
            (950, y, 1150),
            (965, y + 10, 1115),
            (1000, y + 30, 1120),
            (1005, y + 35, 1165),
        ]
        s.tube(curve(hook), 13)


def _mast(s: Sheet) -> None:
    view = s.view
    s.part(prism(view, "y", rounded((-210, -70), (600, 980), 26), -75, 75, smooth=True))
    s.line([(-190, -75, 650), (-90, -75, 650)])
    s.part(cylinder(view, "y", (-120, 905), 36, -85, -75), weight=2)
    s.part(cylinder(view, "y", (-120, 905), 26, -112, -85), weight=2)
    for i in range(4):
        mark(s, "y", rounded((-178 + 20 * i, -165 + 20 * i), (780, 825), 3), -75, DARK if i < 3 else SHADE)
    s.tube(
        curve(
            [
                (-70, 60, 1230),
                (-150, 60, 1260),
                (-250, 40, 1250),
                (-250, -60, 1250),
                (-150, -80, 1260),
                (-70, -60, 1230),
            ],
            6,
        ),
        34,
    )
    s.part(box(view, (52, 92), (-60, -20), (330, 1040)), weight=2.4)
    s.part(box(view, (40, 104), (-72, -8), (300, 350)), weight=2.2)
    s.part(cylinder(view, "y", (72, 1005), 12, -92, -60), weight=2)
    s.tube([(72 + p[0], -96, 985 + p[2]) for p in ring("y", (0, 0), 24, 0)], 7)
