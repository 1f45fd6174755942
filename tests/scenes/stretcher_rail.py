"""The rail foot of the stretcher: the latch switch on its slotted bracket above the latch pin."""

from __future__ import annotations

from .scene import Camera, Motion, Part, Scene
from .shapes import beam, box, cable, plate, ring, rod, slot
from .shared import CABLE, METAL, RUBBER, SHADE, cap_screw, pan_screw

PIN = (-4.0, -15.2)
"""Axis of the latch pin when home, x and z; the bracket face is 12.2 mm above it."""
SCREWS = (46.0, 16.0)
HEIGHT = 8.15
"""Lever height in the middle of the window."""


def housing() -> list[Part]:
    """The back wall of the rail foot with its sides, latch slide and guides."""
    wall = box((-74, 54), (0, 4), (-70, 74))
    sides = box((-74, -70), (-38, 4), (-70, 74)) + box((50, 54), (-38, 4), (-70, 74))
    top = box((-74, 54), (-38, 4), (70, 74))
    wall -= rod("y", (28, SCREWS[0]), 2, (-1, 5)) + rod("y", (28, SCREWS[1]), 2, (-1, 5))
    lugs = None
    for x in (-70, 38):
        for z in (-70, 58):
            lug = box((x, x + 12), (-38, -34), (z, z + 12), 3, "y") - rod("y", (x + 6, z + 6), 2, (-40, -30))
            lugs = lug if lugs is None else lugs + lug
    slide = box((-14, 6), (-6, 0), (-70, -6), 3, "y") - slot("y", (PIN[0], -36), (PIN[0], -54), 7, (-8, 1))
    guides = box((-30, -16), (-9, 0), (-54, -30)) + box((8, 22), (-9, 0), (-54, -30))
    screws = [pan_screw("y", (x, -44), 8, -9.1, out=-1) for x in (-23, 15)]
    stop = pan_screw("y", (PIN[0], -46), 6, -6.1, out=-1)
    frame = [Part("Rail foot", s) for s in (wall + sides + top, lugs, guides)]
    return [*frame, Part("Latch slide", slide, SHADE), *(Part("Guide screws", s) for s in (*screws, stop))]


def pin(home: bool = True) -> Part:
    """The latch pin with its collar."""
    z = PIN[1] - (0 if home else 9)
    body = rod("y", (PIN[0], z), 4, (-27, -6)) + rod("y", (PIN[0], z), 6.5, (-9, -6))
    return Part("Latch pin", body, METAL)


def bracket() -> Part:
    """The slotted bracket; its face is the underside of the foot at z = -3."""
    sheet = plate("y", [(-44, 4), (4, 4), (4, 0), (44, 0), (44, 62), (-44, 62)], (-4, 0))
    foot = box((8, 44), (-30, 0), (-3, 1))
    for z in SCREWS:
        sheet -= slot("y", (28, z - 5), (28, z + 5), 4.6, (-5, 1))
    for x in (-34, -8):
        sheet -= rod("y", (x, 28), 1.6, (-5, 1))
    return Part("Slotted bracket", sheet + foot)


def bracket_screws() -> list[Part]:
    """Two M4 screws with washers."""
    made = []
    for name, z in zip(("Upper bracket screw", "Lower bracket screw"), SCREWS, strict=True):
        made.append(Part(name, ring("y", (28, z), 5.2, 2.2, (-5, -4))))
        made.append(Part(name, cap_screw("y", (28, z), 7.4, -9.6, 8, out=-1)))
    return made


def paint() -> list[Part]:
    """The painted line across each head, thick enough to be seen."""
    made = []
    for z in SCREWS:
        for x, y in (
            ((24.4, 31.6), -9.6),
            ((22.9, 24.3), -5),
            ((31.7, 33.1), -5),
            ((17, 22.8), -4),
            ((33.2, 39), -4),
        ):
            made.append(Part("Paint line", box(x, (y - 0.25, y - 0.02), (z - 0.9, z + 0.9)), 50))
    return made


def switch(press: float) -> list[Part]:
    """Body, plunger block, lever and roller; `press` mm is how far the lever is below the bracket face."""
    body = box((-42, -2), (-26, -4), (5, 38), 2.5, "y") - box((-39, -5), (-27, -25), (22, 23))
    body += box((-30, -14), (-21, -9), (0, 5))
    face = box((-37, -7), (-26.6, -26), (8, 19), 1.5, "y")
    fixing = [pan_screw("y", (x, 30), 6.4, -26.01, out=-1) for x in (-34, -10)]
    lugs = box((-42, -34), (-20, -10), (-4, 5))
    roller_z = -3 - press + 4.5
    tilt = (-38, -15, -1), (PIN[0] - 3, -15, roller_z + 0.5)
    lever = beam(*tilt, 9, 1.4)
    fork = box((PIN[0] - 6, PIN[0] + 4), (-19.5, -17.5), (roller_z - 2, roller_z + 3), 1.2, "y")
    fork += box((PIN[0] - 6, PIN[0] + 4), (-12.5, -10.5), (roller_z - 2, roller_z + 3), 1.2, "y")
    roller = rod("y", (PIN[0], roller_z), 4.5, (-17.4, -12.6))
    axle = rod("y", (PIN[0], roller_z), 1.4, (-20.6, -10))
    hinge = rod("y", (-38, -1), 1.6, (-21, -9))
    made = [Part("Switch body", s) for s in (body, face, lugs)]
    made += [Part("Fixing screws", s, METAL) for s in fixing]
    made += [
        Part("Roller lever", s, t)
        for s, t in ((lever, 240), (fork, 240), (roller, 205), (axle, 255), (hinge, 255))
    ]
    return made


def lead() -> list[Part]:
    """The switch lead with its plug."""
    made = [
        Part(
            "Switch lead",
            cable([(-42, -15, 26), (-52, -16, 24), (-58, -18, 8), (-56, -18, -14), (-55, -18, -30)], 2.6),
            CABLE,
        )
    ]
    gland = rod("x", (-15, 26), 4.2, (-47, -42))
    plug = box((-62, -48), (-24, -12), (-50, -30), 2, "z") + box((-60, -50), (-26, -24), (-44, -34))
    socket = box((-63, -47), (-25, -11), (-62, -50.5), 2, "z")
    tail = cable([(-55, -18, -62), (-55, -18, -66), (-54, -18, -70)], 2.6)
    made += [
        Part("Switch lead", gland, RUBBER),
        Part("Plug of the lead", plug, SHADE),
        Part("Socket", socket),
    ]
    return [*made, Part("Socket", tail, CABLE)]


def moved(parts: list[Part], z: float) -> list[Part]:
    """The same parts higher by z millimetres, as the bracket slides."""
    return [p.moved((0, 0, z)) for p in parts]


VIEW = Camera(-24, 20)
NAMES = (
    "Switch body", "Roller lever", "Upper bracket screw", "Lower bracket screw", "Slotted bracket", "Latch pin",
    "Plug of the lead",
)  # fmt: skip


def set_right() -> Scene:
    """The switch as it should stand."""
    scene = Scene(VIEW, names=NAMES, tall=0.95)
    scene.add(housing(), [pin()], [bracket()], switch(HEIGHT), bracket_screws(), lead())
    scene.motions = [Motion("slide", (50, -4, 31), "down")]
    scene.length = ((8, -30, -6), (28, -30, -6))
    return scene


def _switch_group(height: float, shift: float) -> list[Part]:
    """Bracket, screws and switch, `shift` mm above their right place; the lever touches the pin at `height`."""
    return moved([bracket(), *switch(height)], shift)


def as_found() -> Scene:
    """The bracket has crept up: the roller hardly touches the pin."""
    scene = Scene(CLOSE, names=PAIR, tall=0.62, frame=((0, -10, 16), 122))
    scene.add(housing(), [pin()], _switch_group(HEIGHT + 3.2, 3.2), bracket_screws(), lead())
    scene.motions = [Motion("slide", (44, -4, 33), "down")]
    return scene


def as_left() -> Scene:
    """Set and marked: a line is painted across each head and the bracket."""
    scene = Scene(CLOSE, names=PAIR, tall=0.62, frame=((0, -10, 16), 122))
    scene.add(housing(), [pin()], _switch_group(HEIGHT, 0), bracket_screws(), lead(), paint())
    return scene


def apart() -> Scene:
    """Switch, screws and bracket drawn apart towards the viewer."""
    scene = Scene(Camera(-38, 22), tall=0.85)
    wall = box((-60, 60), (0, 4), (-20, 70), 4, "y")
    for z in SCREWS:
        wall -= rod("y", (28, z), 2, (-1, 5))
    scene.add(Part("Rail foot", wall, 248), bracket().moved((0, -46, 0)))
    scene.add(p.moved((0, -78, 0)) for p in switch(HEIGHT) if p.name != "Fixing screws")
    scene.add(
        Part("Fixing screws", pan_screw("y", (x, 30), 6.4, -136, 26, out=-1), METAL) for x in (-34, -10)
    )
    for name, z in zip(("Upper bracket screw", "Lower bracket screw"), SCREWS, strict=True):
        scene.add(Part("Washers", ring("y", (28, z), 5.2, 2.2, (-78, -77)), METAL))
        scene.add(Part(name, cap_screw("y", (28, z), 7.4, -100, 12, out=-1)))
        scene.axes.append(((28, 0, z), (28, -112, z)))
    scene.axes += [((x, -50, 30), (x, -146, 30)) for x in (-34, -10)]
    scene.names = (
        "Switch body", "Roller lever", "Upper bracket screw", "Lower bracket screw", "Slotted bracket", "Washers", "Fixing screws",
    )  # fmt: skip
    return scene


PAIR = ("Roller lever", "Upper bracket screw", "Lower bracket screw", "Slotted bracket", "Latch pin")
CLOSE = Camera(-14, 12)
