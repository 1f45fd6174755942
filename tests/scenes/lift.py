"""The patient lift from outside: base and legs, mast, boom, pack, stand, hooks; its wall dock; what locks it."""

from __future__ import annotations

from math import atan2, cos, degrees, sin

from build123d import Location, Pos, Rot

from .scene import Camera, Part, Point, Scene
from .shapes import bar, beam, box, cable, ring, rod, soft
from .shared import CABLE, METAL, RUBBER, SHADE, castor, padlock, pan_screw, split_pin, stop_button

PIVOT: Point = (5, 0, 1240)
STAND: Point = (64, 0, 830)
LONG_STAND = 445


def base(cover: bool = True) -> list[Part]:
    """Legs on castors, the base and its cover, the pedal."""
    made = []
    for side in (-1, 1):
        leg = beam((150, side * 205, 118), (900, side * 300, 96), 62, 44, 8)
        made.append(Part("Legs", leg))
        made.append(Part("Legs", rod("z", (150, side * 205), 34, (96, 150))))
        made += castor("Castors", (872, side * 297, 74), 38, -20)
        made += castor("Castors", (-150, side * 215, 104), 52, 12, brake=1.15)
        made.append(Part("Base", box((-190, -110), (side * 215 - 45, side * 215 + 45), (106, 128), 10)))
    if cover:
        body = box((-200, 180), (-235, 235), (128, 205), 40) - box((-201, -150), (-60, 60), (120, 180))
        made.append(Part("Base cover", body))
        screws = [(-170, -150), (-170, 150), (150, -150), (150, 150), (-20, -210), (-20, 210)]
        made += [Part("Base screws", pan_screw("z", at, 16, 209, 0)) for at in screws]
    pedal = beam((40, -200, 150), (40, -272, 132), 26, 14, 3) + box((-30, 110), (-312, -268), (122, 134), 8)
    ribs = box((-25, 15), (-308, -272), (134, 139)) + box((65, 105), (-308, -272), (134, 139))
    made += [Part("Leg pedal", pedal, SHADE), Part("Leg pedal", ribs, RUBBER)]
    return made


def mast(cover: bool = True) -> list[Part]:
    """Mast, cover, push handle, pivot of the boom, jacks and red stop."""
    post = box((-40, 50), (-45, 45), (150, 1200), 12)
    head = box((-34, 44), (-52, -40), (1150, 1275), 10, "y") + box((-34, 44), (40, 52), (1150, 1275), 10, "y")
    made = [
        Part("Mast", post),
        Part("Mast", head),
        Part("Boom pivot", rod("y", (5, 1240), 16, (-60, 60)), METAL),
    ]
    handle = cable([(-40, -30, 1010), (-120, -60, 1010), (-190, -170, 1040), (-210, -150, 1075), (-210, 0, 1085), (-210, 150, 1075),
                    (-190, 170, 1040), (-120, 60, 1010), (-40, 30, 1010)], 15)  # fmt: skip
    made.append(Part("Push handle", handle, 225))
    if cover:
        shell = box((-34, 44), (-62, -45), (225, 545), 8, "y")
        made.append(Part("Mast cover", shell))
        made += [
            Part("Mast screws", pan_screw("y", (x, z), 12, -65, out=-1))
            for x in (-22, 32)
            for z in (240, 530)
        ]
    made += jacks() + stop_button("Red stop", "y", (5, 790), -45, -1, 24)
    return made


def jacks() -> list[Part]:
    """Three shrouded jacks on a plate at the mast."""
    made = [Part("Jacks J1 to J3", box((-32, 42), (-49, -45), (575, 625), 6, "y"))]
    for x in (-18, 5, 28):
        made.append(Part("Jacks J1 to J3", ring("y", (x, 600), 9, 5, (-58, -49)), SHADE))
    return made


def pack() -> list[Part]:
    """The battery pack with grip and gauge, on the back of the mast."""
    body = box((-138, -44), (-75, 75), (560, 790), 12, "y")
    body -= box((-120, -62), (-80, 80), (745, 775), 8, "y")
    gauge = box((-118, -64), (-77, -75), (690, 722), 4, "y")
    bars = [
        Part("Pack gauge", box((-114 + 12 * i, -106 + 12 * i), (-78, -77), (696, 716)), 60) for i in range(3)
    ]
    seam = box((-139, -43), (-76, 76), (612, 615))
    hook = box((-60, -40), (-40, 40), (790, 806), 4)
    return [Part("Pack", body, 242), Part("Pack", seam), Part("Pack gauge", gauge), *bars, Part("Pack", hook)]


def place_of(angle: float, along: float) -> Point:
    """A point on the boom's middle line."""
    return (PIVOT[0] + along * cos(angle), 0, PIVOT[2] + along * sin(angle))


def boom(angle: float) -> list[Part]:
    """Boom at an angle in radians, with its actuator and hanger."""
    tip = place_of(angle, 830)
    arm = beam(place_of(angle, -30), tip, 56, 66, 8)
    cap = beam(tip, place_of(angle, 842), 60, 70, 8)
    foot, joint = (92.0, 0.0, 420.0), place_of(angle, 300)
    joint = (joint[0], 0, joint[2] - 50)
    way = [j - f for f, j in zip(foot, joint, strict=True)]
    long = sum(w * w for w in way) ** 0.5
    unit = [w / long for w in way]
    body_end = 400.0
    at = lambda d: tuple(f + u * d for f, u in zip(foot, unit, strict=True))  # noqa: E731
    cylinder = bar(at(20), at(body_end), 27)
    made = [
        Part("Boom", arm),
        Part("Boom", cap, SHADE),
        Part("Actuator", cylinder),
        Part("Actuator", bar(at(body_end), at(body_end + 22), 31)),
    ]
    made.append(Part("Actuator", bar(at(body_end + 20), at(long), 13), METAL))
    made.append(Part("Actuator", box((30, 112), (-26, 26), (396, 444), 8, "y")))
    motor = bar(at(30), at(190), 24)
    made.append(Part("Actuator", Pos(38, 0, -10) * motor, 242))
    made += [
        Part("Pin", rod("y", (foot[0], foot[2]), 8, (-36, 36)), METAL),
        Part("Pin", rod("y", (joint[0], joint[2]), 9, (-34, 34)), METAL),
    ]
    made.append(
        Part("Boom", box((joint[0] - 26, joint[0] + 26), (-30, 30), (joint[2] - 16, joint[2] + 30), 6, "y"))
    )
    return made + hanger(place_of(angle, 800))


def hanger(at: Point) -> list[Part]:
    """The swivel, the spreader bar and four sling hooks under the end of the boom."""
    x, y, z = at
    made = [
        Part("Hanger", rod("z", (x, y), 14, (z - 120, z - 20)), METAL),
        Part("Hanger", rod("z", (x, y), 26, (z - 140, z - 104))),
    ]
    spread = cable(
        [(x, -230, z - 190), (x, -150, z - 165), (x, 0, z - 140), (x, 150, z - 165), (x, 230, z - 190)], 17
    )
    made.append(Part("Hanger", spread))
    for side in (-1, 1):
        for dx, yy, zz in ((0, 232, -192), (0, 150, -166)):
            made += hook((x + dx, side * yy, z + zz))
    return made


def hook(at: Point) -> list[Part]:
    """One sling hook with its latch."""
    x, y, z = at
    body = cable(
        [
            (x, y, z),
            (x, y, z - 30),
            (x + 4, y, z - 62),
            (x + 28, y, z - 80),
            (x + 50, y, z - 62),
            (x + 50, y, z - 40),
        ],
        8,
    )
    knob = rod("z", (x + 50, y), 11, (z - 42, z - 28))
    latch = bar((x + 48, y, z - 36), (x + 4, y, z - 22), 3.5)
    return [Part("Sling hooks", body), Part("Sling hooks", knob), Part("Hook latches", latch, METAL)]


def stand(angle: float | None) -> list[Part]:
    """The strut stand: folded down at the mast (None) or up under the boom at an angle in radians."""
    x, _, z = STAND
    bracket = box((44, 84), (-62, -45), (800, 860), 8, "y") + box((44, 84), (45, 62), (800, 860), 8, "y")
    made = [Part("Stand bracket", bracket), Part("Stand bracket", rod("y", (x, z), 9, (-70, 70)), METAL)]
    way = (0.0, -1.0) if angle is None else (cos(angle), sin(angle))
    end = (x + LONG_STAND * way[0], z + LONG_STAND * way[1])
    turn = Rot(0, -degrees(atan2(way[1], way[0])), 0)
    for side in (-1, 1):
        flat = box((-18, LONG_STAND + 18), (-4, 4), (-16, 16), 14, "y")
        made.append(Part("Strut stand", Location((x, side * 52, z)) * turn * flat, 240))
    made.append(Part("Strut stand", rod("y", end, 12, (-56, 56)), 240))
    middle = (x + 0.4 * LONG_STAND * way[0], z + 0.4 * LONG_STAND * way[1])
    made.append(Part("Strut stand", rod("y", middle, 8, (-50, 50)), 240))
    return made


def stand_pin(at: Point, home: bool) -> Part:
    """The locking pin with its ring."""
    y0 = -74 if home else -150
    return Part("Stand pin", split_pin((at[0], 0, at[2]), "y", 8, (y0, y0 + 148), 22), METAL)


def dock() -> list[Part]:
    """The wall dock with its plungers, lamp and cord."""
    plate_ = box((-345, -325), (-120, 120), (70, 330), 16, "x")
    body = soft((-325, -252), (-95, 95), (100, 300), 14)
    made = [Part("Dock", plate_), Part("Dock", body)]
    for y in (-32, 32):
        made.append(Part("Dock plungers", rod("x", (y, 155), 16, (-252, -244)), SHADE))
        made.append(Part("Dock plungers", rod("x", (y, 155), 9, (-244, -196)), METAL))
    made.append(Part("Dock lamp", rod("z", (-290, -50), 17, (300, 306))))
    made.append(Part("Dock lamp", rod("z", (-290, -50), 13, (306, 326)), 205))
    made.append(
        Part(
            "Dock cord", cable([(-300, 60, 300), (-305, 62, 350), (-318, 80, 430), (-318, 90, 505)], 7), CABLE
        )
    )
    plug = box((-345, -300), (70, 110), (500, 545), 8, "x") + box((-330, -306), (74, 106), (545, 552), 3)
    made += [Part("Dock plug", plug, SHADE), Part("Socket", box((-347, -340), (45, 135), (475, 570), 8, "x"))]
    return made


def wall() -> Part:
    """The piece of wall that carries the dock."""
    return Part("Wall", box((-360, -345), (-210, 210), (0, 620)), 246)


def pads() -> list[Part]:
    """The pad block at the back of the base."""
    made = [Part("Pad block", box((-196, -155), (-58, 58), (128, 178), 6, "x"), SHADE)]
    return made + [Part("Pads", rod("x", (y, 155), 14, (-200, -196)), METAL) for y in (-32, 32)]


NAMES = (
    "Dock lamp", "Pack", "Red stop", "Boom", "Strut stand", "Stand pin", "Leg pedal", "Sling hooks", "Jacks J1 to J3",
    "Dock plug",
)  # fmt: skip


def whole() -> Scene:
    """The lift in its dock, boom raised."""
    scene = Scene(Camera(38, 14), tall=1.0, names=NAMES)
    scene.at = {"Stand pin": (64, 20, 740)}
    scene.add(
        wall(),
        dock(),
        pads(),
        base(),
        mast(),
        pack(),
        boom(0.22),
        stand(None),
        [stand_pin((64, 0, 740), True)],
    )
    return scene


def case(at: Point, name: str, lock: str) -> list[Part]:
    """A locked case with its lid, hasp and padlock."""
    x, y, z = at
    body = box((x, x + 230), (y, y + 150), (z, z + 190), 12)
    lid = box((x - 4, x + 234), (y - 4, y + 154), (z + 190, z + 226), 12)
    grip = cable(
        [
            (x + 75, y + 75, z + 224),
            (x + 75, y + 75, z + 252),
            (x + 155, y + 75, z + 252),
            (x + 155, y + 75, z + 224),
        ],
        7,
        straight=True,
    )
    hasp = box((x + 98, x + 132), (y - 9, y - 4), (z + 150, z + 208), 4, "y") - rod(
        "y", (x + 115, z + 164), 7, (y - 20, y)
    )
    made = [Part(name, body), Part(name, lid, 242), Part(name, grip, SHADE), Part(name, hasp, METAL)]
    return made + [Part(lock, p.solid, p.tone) for p in padlock((x + 115, y - 7, z + 164), 52)]


def locked() -> Scene:
    """What holds the lift safe: boom on its stand, pin home, pack and dock plug in locked cases."""
    down = -0.055
    seat = place_of(down, 440)
    tilt = atan2(seat[2] - 40 - STAND[2], seat[0] - STAND[0])
    end = (STAND[0] + LONG_STAND * cos(tilt), 0.0, STAND[2] + LONG_STAND * sin(tilt))
    scene = Scene(Camera(38, 16), tall=1.0)
    saddle = box((end[0] - 26, end[0] + 26), (-44, -32), (end[2] - 24, end[2] + 62), 10, "y")
    saddle += box((end[0] - 26, end[0] + 26), (32, 44), (end[2] - 24, end[2] + 62), 10, "y")
    saddle += box((end[0] - 26, end[0] + 26), (-44, 44), (end[2] - 4, end[2] + 4))
    scene.add(base(), mast(), boom(down), stand(tilt), [Part("Strut stand", saddle, 240)])
    scene.add([stand_pin((end[0], 0, end[2] + 46), True)])
    scene.add(
        case((-420, -330, 0), "Case of the pack", "Padlock of the pack"),
        case((-700, -330, 0), "Plug case", "Padlock of the plug"),
    )
    scene.names = (
        "Red stop", "Boom", "Strut stand", "Stand pin", "Case of the pack", "Plug case", "Padlock of the pack",
        "Padlock of the plug", "Jacks J1 to J3",
    )  # fmt: skip
    return scene
