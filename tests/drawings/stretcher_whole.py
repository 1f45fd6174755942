"""The whole transport stretcher from the side."""

from __future__ import annotations

from .pen import Sheet, View, curve
from .shapes import box, cylinder, prism, rounded


def whole() -> Sheet:
    """The stretcher from the side, deck raised."""
    view = View(yaw=24, pitch=17, zoom=0.44, about=(40, 0, 520))
    s = Sheet(view)
    for x in (-560, 560):
        _castor(s, x, 210)
    s.part(cylinder(view, "y", (90, 80), 80, -30, 30))
    s.part(prism(view, "y", rounded((-660, 660), (190, 310), 40), -230, 230, smooth=True))
    s.line([(-630, -230, 220), (630, -230, 220)])
    s.part(cylinder(view, "z", (0, 0), 105, 310, 330))
    s.part(cylinder(view, "z", (0, 0), 90, 330, 520))
    s.part(cylinder(view, "z", (0, 0), 70, 520, 700))
    _props(s, -110)
    _deck(s)
    _front(s)
    return s


def _castor(s: Sheet, x: float, y: float) -> None:
    view = s.view
    s.part(cylinder(view, "z", (x, y), 22, 130, 195), weight=2)
    s.part(cylinder(view, "y", (x - 25, 72), 72, y - 18, y + 18))
    s.part(cylinder(view, "y", (x - 25, 72), 18, y - 26, y - 18), weight=1.6)
    fork = [(x - 45, 60), (x - 5, 60), (x + 30, 150), (x - 30, 150)]
    s.part(prism(view, "y", fork, y - 34, y - 22), weight=2)
    pedal = [(x - 150, 158), (x - 30, 132), (x - 30, 150), (x - 150, 176)]
    s.part(prism(view, "y", pedal, y - 30, y + 20), weight=2)


def _props(s: Sheet, y: float) -> None:
    for x, lean in ((-420, -90), (420, 90)):
        leg = [(x - 22, 300), (x + 22, 300), (x + lean + 22, 700), (x + lean - 22, 700)]
        s.part(prism(s.view, "y", leg, y - 14, y + 14), weight=2.2)
        s.part(cylinder(s.view, "y", (x + lean * 0.12, 350), 15, y - 40, y - 14), weight=1.8)


def _rail(s: Sheet, y: float) -> None:
    for x in (-330, -110, 110, 330):
        s.tube([(x, y, 730), (x, y, 1000)], 22)
    frame = [(-480, y, 730), (-480, y, 940), (-440, y, 1000), (440, y, 1000), (480, y, 940), (480, y, 730)]
    s.tube(frame, 34)


def _deck(s: Sheet) -> None:
    view = s.view
    s.part(prism(view, "y", rounded((-960, 960), (700, 760), 18), -330, 330, smooth=True))
    s.tube(
        curve(
            [
                (950, 300, 745),
                (1010, 300, 800),
                (1040, 280, 960),
                (1040, -280, 960),
                (1010, -300, 800),
                (950, -300, 745),
            ],
            4,
        ),
        34,
    )
    _rail(s, 345)
    s.part(prism(view, "y", rounded((-930, 320), (762, 850), 36), -300, 300, smooth=True))
    back = [(330, 764), (910, 850), (890, 930), (315, 850)]
    s.part(prism(view, "y", back, -300, 300))
    s.part(box(view, (-540, 540), (-372, -330), (708, 744)))
    _rail(s, -360)
    s.part(box(view, (1020, 1060), (-200, -60), (935, 985)), weight=2.2)


def _front(s: Sheet) -> None:
    view = s.view
    s.part(box(view, (-260, -120), (-242, -230), (220, 290)), weight=2)
    s.part(cylinder(view, "y", (-190, 255), 26, -262, -242), weight=2)
    s.part(box(view, (-220, -160), (-278, -262), (246, 264)), weight=1.8)
    s.part(cylinder(view, "y", (330, 258), 16, -250, -230), weight=2)
    s.part(cylinder(view, "y", (330, 258), 22, -236, -230), weight=1.6)
    s.part(cylinder(view, "y", (330, 258), 14, -252, -236), weight=1.6)
    for x in (-430, 430):
        s.tube([(x, -230, 235), (x, -320, 175)], 24)
    s.tube([(-520, -320, 175), (520, -320, 175)], 34)
    for x in (-560, 560):
        _castor(s, x, -210)
    where = {
        "Charge lamp": (330, -252, 258),
        "Battery isolator": (-190, -278, 255),
        "Drive handle": (1035, -130, 975),
        "Side rail": (60, -360, 1000),
        "Deck prop": (462, -124, 490),
        "Pedal bar": (150, -337, 175),
        "Castor brake": (-680, -225, 165),
        "Drive wheel": (75, -30, 35),
    }
    for name, point in where.items():
        s.item(name, point)
