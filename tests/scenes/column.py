"""The foot of the stretcher's column: pump, hose, valve and test point; a hose fitting cut open and drawn apart."""

from __future__ import annotations

from .scene import Camera, Motion, Part, Scene, Solid
from .shapes import box, cable, hexagon, ring, rod, soft
from .shared import METAL, SHADE, cap_screw, pan_screw


def tray() -> list[Part]:
    """The floor of the base."""
    floor = box((-230, 330), (-150, 150), (-6, 0), 12)
    rim = box((-230, 330), (144, 150), (0, 40)) + box((-230, -224), (-138, 138), (0, 40))
    return [Part("Base", floor), Part("Base", rim)]


def column() -> list[Part]:
    """The column's foot with its flange and screws, cut off above."""
    tube = ring("z", (-40, 30), 62, 50, (18, 230)) + ring("z", (-40, 30), 66, 50, (150, 168))
    rod_ = rod("z", (-40, 30), 36, (200, 300))
    flange = rod("z", (-40, 30), 92, (0, 18))
    seal = ring("z", (-40, 30), 58, 36, (230, 238))
    screws = [
        cap_screw("z", (-40 + 76 * c, 30 + 76 * s), 15, 27)
        for c, s in ((0.6, -0.8), (-0.6, -0.8), (1, 0.05), (-1, 0.05), (0.6, 0.8))
    ]
    port = box((-66, -14), (-58, -26), (40, 84), 5, "y")
    made = [Part("Column", s) for s in (tube, flange, seal, port)] + [Part("Column", rod_, METAL)]
    return made + [Part("Column screws", s, METAL) for s in screws]


def fitting_column() -> list[Part]:
    """The union at the column's port; it looks towards the viewer."""
    body = hexagon("y", (-40, 62), 30, (-76, -58)) + rod("y", (-40, 62), 10, (-84, -76))
    return [Part("Fitting at the column", body, SHADE)]


def accumulator() -> list[Part]:
    """The accumulator beside the column with its clamp."""
    body = rod("z", (-168, 20), 38, (30, 190))
    cap = rod("z", (-168, 20), 26, (190, 206)) + rod("z", (-168, 20), 10, (206, 222))
    foot = hexagon("z", (-168, 20), 34, (6, 30))
    clamp = ring("z", (-168, 20), 42, 38, (100, 122)) + box((-196, -140), (-30, -18), (98, 124), 3, "y")
    return [
        Part("Accumulator", body),
        Part("Accumulator", cap, SHADE),
        Part("Accumulator", foot),
        Part("Clamp", clamp, SHADE),
    ]


def pump() -> list[Part]:
    """Pump block with motor, relief valve, test point and tank."""
    block = box((120, 250), (-60, 40), (0, 92), 6)
    motor = rod("x", (-10, 50), 46, (250, 316)) + rod("x", (-10, 50), 30, (316, 324))
    motor += box((262, 304), (-40, 20), (90, 112), 4)
    tank = soft((128, 242), (-52, 34), (96, 196), 10)
    filler = rod("z", (150, -20), 16, (196, 214))
    made = [
        Part("Pump block", block),
        Part("Motor", motor),
        Part("Tank", tank, 246),
        Part("Filler cap", filler, SHADE),
    ]
    made += [
        Part("Block screws", cap_screw("y", at, 11, -67, out=-1), METAL)
        for at in ((132, 14), (238, 14), (238, 80))
    ]
    valve = hexagon("y", (216, 34), 28, (-72, -60)) + rod("y", (216, 34), 10, (-90, -72))
    valve -= hexagon("y", (216, 34), 9, (-92, -82))
    made.append(Part("Relief valve", valve, 200))
    point = (
        hexagon("y", (178, 76), 24, (-70, -60))
        + rod("y", (178, 76), 9, (-84, -70))
        + rod("y", (178, 76), 11, (-96, -84))
    )
    made.append(Part("Column test point", point, 225))
    union = hexagon("y", (142, 40), 30, (-76, -60)) + rod("y", (142, 40), 10, (-84, -76))
    made.append(Part("Fitting at the pump", union, SHADE))
    return made


def hose() -> list[Part]:
    """The hose with its crimped ends and nuts, in an easy bow towards the viewer."""
    made = []
    for x, z in ((-40, 62), (142, 40)):
        made.append(Part("Hose nuts", hexagon("y", (x, z), 25, (-104, -80)), METAL))
        made.append(Part("Column hose", ring("y", (x, z), 11.5, 5, (-132, -104)), METAL))
    way = [
        (-40, -130, 62),
        (-40, -150, 62),
        (-30, -196, 62),
        (10, -232, 58),
        (52, -242, 52),
        (94, -232, 46),
        (133, -196, 40),
        (142, -150, 40),
        (142, -130, 40),
    ]
    made.append(Part("Column hose", cable(way, 9.5), 175))
    return made


def charger() -> list[Part]:
    """Terminals of the charger on their insulating block."""
    block = box((-214, -120), (-130, -92), (0, 34), 3, "x")
    for x in (-200, -167, -134):
        block -= rod("z", (x, -111), 9, (24, 40))
    made = [Part("Charger terminals", block, 248)]
    for x in (-200, -167, -134):
        made.append(Part("Charger terminals", pan_screw("z", (x, -111), 15, 30), METAL))
    made += [
        Part("Wires", cable([(x, -128, 12), (x, -142, 10), (x - 6, -150, 4), (x - 10, -170, 3)], 3.6), t)
        for x, t in ((-200, 90), (-167, 210), (-134, 160))
    ]
    return made


def foot() -> Scene:
    """The foot of the column with the base cover off."""
    scene = Scene(Camera(20, 30), tall=0.85)
    scene.names = (
        "Column", "Accumulator", "Relief valve", "Column test point", "Column hose", "Fitting at the column",
        "Fitting at the pump", "Pump block", "Charger terminals",
    )  # fmt: skip
    scene.add(tray(), column(), fitting_column(), accumulator(), pump(), hose(), charger())
    scene.motions = [Motion("turn", (216, -90, 34), "left", "1 turn")]
    scene.at = {"Column hose": (52, -242, 61.5)}
    return scene


def _halved(solid: Solid) -> Solid:
    return solid - box((-60, 200), (-60, 0), (-60, 60))


def fitting_cut() -> Scene:
    """Port, bonded seal, fitting and hose nut along one axis, cut through the middle and drawn apart."""
    port = (
        box((-40, 0), (-34, 34), (-30, 30), 4, "x")
        - rod("x", (0, 0), 8, (-18, 1))
        - rod("x", (0, 0), 4, (-41, 1))
    )
    seal = ring("x", (0, 0), 15, 10.5, (18, 21.5))
    lip = ring("x", (0, 0), 10.5, 8.6, (18.6, 20.9))
    fitting = (
        rod("x", (0, 0), 8, (38, 54)) + hexagon("x", (0, 0), 28, (54, 68)) + rod("x", (0, 0), 10, (68, 84))
    )
    fitting -= rod("x", (0, 0), 3.4, (37, 85))
    nut = (
        hexagon("x", (0, 0), 27, (100, 124))
        - rod("x", (0, 0), 10.2, (99, 116))
        - rod("x", (0, 0), 7.4, (110, 125))
    )
    tail = (
        rod("x", (0, 0), 9.6, (106, 113))
        + rod("x", (0, 0), 6.8, (113, 150))
        - rod("x", (0, 0), 3.4, (100, 151))
    )
    sleeve = ring("x", (0, 0), 13, 9.8, (128, 160))
    hose_ = ring("x", (0, 0), 9.7, 6.9, (128, 192)) + ring("x", (0, 0), 9.7, 5.2, (152, 192))
    scene = Scene(Camera(-24, 20), tall=0.6, plane=("y", 0.0))
    made: list[tuple[str, Solid, int, float]] = [
        ("Port", port, 250, 45), ("Bonded seal", seal, METAL, -45), ("Bonded seal", lip, 110, 0), ("Fitting", fitting, SHADE, -45),
        ("Hose nut", nut, METAL, 45), ("Nipple", tail, 250, -45), ("Crimped sleeve", sleeve, SHADE, 60), ("Column hose", hose_, 175, 30),
    ]  # fmt: skip
    scene.add(Part(n, _halved(s), t, h or None) for n, s, t, h in made)
    scene.axes = [((-50, 0, 0), (205, 0, 0))]
    scene.names = ("Port", "Bonded seal", "Fitting", "Hose nut", "Nipple", "Crimped sleeve", "Column hose")
    return scene
