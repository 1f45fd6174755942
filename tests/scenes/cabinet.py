"""The warming cabinet: the whole of it, the door switch with its striker, the heat limit on the element plate."""

from __future__ import annotations

from build123d import Location, Rot

from .scene import Camera, Part, Point, Scene
from .shapes import beam, box, cable, plate, ring, rod, slot, soft
from .shared import CABLE, METAL, RUBBER, SHADE, cap_screw, castor, padlock, pan_screw


def body() -> list[Part]:
    """Housing with its chamber, panel, castors and cord; the door opening looks at the viewer."""
    shell = box((-320, 320), (0, 580), (110, 1160), 18) - box((-270, 270), (-1, 520), (160, 950), 10, "y")
    made = [Part("Housing", shell)]
    shelf = box((-268, 268), (14, 510), (540, 548))
    made.append(Part("Shelf", shelf))
    for i, z in enumerate((160, 225, 290, 548, 613, 678)):
        made.append(Part("Blankets", soft((-225 + 3 * i, 215 - 2 * i), (30, 470), (z, z + 62), 22), 244))
    for x in (-270, 270):
        for y in (60, 520):
            made += castor("Castors", (x, y, 110), 44, 15)
    made += panel() + cord()
    grille = None
    for i in range(7):
        bar_ = box((312, 322), (120, 300), (840 + 14 * i, 846 + 14 * i))
        grille = bar_ if grille is None else grille + bar_
    return [*made, Part("Grille", grille)]


def panel() -> list[Part]:
    """The front panel above the door with lamp, keys, port and reset button."""
    made = [Part("Front panel", box((-300, 300), (-12, 0), (1010, 1140), 12, "y"), 248)]
    made.append(Part("Mains switch", box((-272, -222), (-17, -12), (1042, 1110), 6, "y")))
    made.append(Part("Mains switch", box((-264, -230), (-25, -17), (1050, 1102), 4, "y"), 200))
    made.append(Part("Display", box((-190, -60), (-15, -12), (1046, 1106), 6, "y"), 225))
    made.append(Part("Heater lamp", ring("y", (-8, 1076), 19, 14, (-17, -12))))
    made.append(Part("Heater lamp", rod("y", (-8, 1076), 14, (-22, -12)), 205))
    made.append(Part("Limit key", box((50, 100), (-16, -12), (1052, 1100), 6, "y")))
    made.append(Part("Limit key", box((57, 93), (-23, -16), (1058, 1094), 5, "y"), SHADE))
    made.append(Part("Thermometer port", ring("y", (160, 1076), 21, 9, (-20, -12)), SHADE))
    made.append(Part("Reset button", ring("y", (235, 1076), 22, 15, (-18, -12))))
    made.append(Part("Reset button", rod("y", (235, 1076), 13.5, (-28, -12)), 170))
    return made


def cord() -> list[Part]:
    """The mains cord, its plug in a locked case on the floor."""
    way = [(318, 500, 220), (352, 500, 210), (420, 440, 60), (470, 330, 10), (480, 200, 10), (470, 70, 24)]
    made = [
        Part("Mains cord", cable(way, 8), CABLE),
        Part("Mains cord", rod("x", (500, 220), 14, (318, 338)), RUBBER),
    ]
    case = box((395, 545), (-80, 70), (0, 110), 14) + box((410, 530), (-88, -80), (46, 64))
    hasp = box((455, 485), (-94, -88), (34, 90), 4, "y") - rod("y", (470, 46), 7, (-100, -80))
    made += [Part("Plug case", case), Part("Plug case", hasp, METAL)]
    return made + [Part("Padlock", p.solid, p.tone) for p in padlock((470, -91, 46), 56)]


def door(angle: float) -> list[Part]:
    """The door with its handle and striker, turned about its left edge."""
    leaf = box((0, 600), (-42, -4), (0, 860), 14, "y") - box((90, 510), (-43, -38), (120, 740), 20, "y")
    window = box((95, 505), (-39, -36), (125, 735), 18, "y")
    grip = cable(
        [
            (562, -42, 330),
            (562, -80, 340),
            (562, -84, 380),
            (562, -84, 480),
            (562, -80, 520),
            (562, -42, 530),
        ],
        9,
    )
    striker = box((470, 530), (-30, -10), (860, 866), 4) + box((488, 512), (-24, -16), (866, 890), 3)
    place = Location((-300, 0, 130)) * Rot(0, 0, -angle)
    made = [
        Part("Door", place * leaf),
        Part("Door", place * window, 240),
        Part("Door handle", place * grip, SHADE),
        Part("Striker", place * striker, METAL),
    ]
    return [*made, *(Part("Hinges", rod("z", (-308, -22), 10, s)) for s in ((190, 260), (860, 930)))]


def whole() -> Scene:
    """The cabinet with its door ajar and its plug locked away."""
    scene = Scene(Camera(24, 16), tall=1.0)
    scene.at = {"Limit key": (74, -23, 1076)}
    scene.names = (
        "Mains switch", "Heater lamp", "Limit key", "Thermometer port", "Reset button", "Door", "Door head cover",
        "Plug case", "Padlock",
    )  # fmt: skip
    head = box((-270, 270), (-8, 0), (955, 1000), 6, "y")
    screws = [pan_screw("y", (x, 978), 14, -12, out=-1) for x in (-240, 0, 240)]
    scene.add(body(), door(38), Part("Door head cover", head, 242), (Part("Head screws", s) for s in screws))
    return scene


def door_head() -> list[Part]:
    """The channel of the door head, cover off, with lugs for the cover."""
    back = box((-110, 110), (56, 60), (0, 96))
    top = box((-110, 110), (0, 60), (92, 96))
    floor = box((-110, 110), (0, 60), (0, 4)) - box((-34, 8), (14, 44), (-1, 5))
    lugs = box((-104, -86), (0, 4), (70, 92), 3, "y") + box((86, 104), (0, 4), (70, 92), 3, "y")
    for x in (-95, 95):
        lugs -= rod("y", (x, 80), 2.6, (-1, 5))
    frame = box((-110, 110), (-4, 0), (-14, 4))
    return [Part("Door head", s) for s in (back, top, floor, lugs, frame)]


def switch(press: float) -> list[Part]:
    """The door switch, plunger down through the floor; `press` mm is how far it is pushed in."""
    case = box((-38, 12), (14, 44), (22, 66), 3, "y") - box((-34, 8), (12, 16), (42, 43.4))
    base = box((-44, 18), (12, 46), (16, 24), 3)
    neck = rod("z", (-13, 29), 9, (6, 16))
    made = [Part("Door switch", s) for s in (case, base, neck)]
    made.append(Part("Plunger", rod("z", (-13, 29), 5.5, (-13 + press, 8)), 225))
    made.append(
        Part(
            "Bracket of the switch",
            box((-60, 34), (46, 50), (4, 74), 3, "y")
            + box((-60, 34), (14, 50), (4, 7))
            - box((-40, 14), (10, 44), (3, 8)),
            246,
        )
    )
    made += [Part("Switch screws", pan_screw("y", (x, 54), 8, 11.4, out=-1), METAL) for x in (-30, 4)]
    for x, shade in ((-32, 120), (-20, 235), (-6, 120), (6, 235)):
        made.append(Part("Terminals", box((x - 4, x + 4), (20, 32), (66, 72)), 250))
        made.append(Part("Terminals", pan_screw("z", (x, 26), 7, 74.5), METAL))
        made.append(
            Part(
                "Wires",
                cable(
                    [
                        (x, 30, 69),
                        (x + 4, 38, 82),
                        (x + 24, 46, 86),
                        (40 + x * 0.3, 48, 84),
                        (70, 48, 80 + x * 0.2),
                        (108, 48, 78 + x * 0.2),
                    ],
                    2.2,
                ),
                shade,
            )
        )
    return made


def striker(z: float, ajar: float) -> list[Part]:
    """The striker on the door's upper edge: an angle with slots, two screws."""
    foot = box((-36, 12), (-4 - ajar, 46 - ajar), (z, z + 3), 3) - slot(
        "z", (-26, 8 - ajar), (-26, 18 - ajar), 4.6, (z - 1, z + 4)
    )
    foot -= slot("z", (2, 8 - ajar), (2, 18 - ajar), 4.6, (z - 1, z + 4))
    nose = box((-25, -1), (24 - ajar, 36 - ajar), (z + 3, z + 12), 4, "y")
    made = [Part("Striker", foot, METAL), Part("Striker", nose, METAL)]
    return made + [Part("Striker screws", cap_screw("z", (x, 13 - ajar), 8, z + 8), 255) for x in (-26, 2)]


def head_open(ajar: float = 34) -> Scene:
    """The door head with its cover off and the door ajar."""
    scene = Scene(Camera(22, 24), tall=0.82)
    leaf = box((-110, 110), (-10 - ajar, 50 - ajar), (-74, -34), 3, "x")
    scene.add(door_head(), switch(0), striker(-34, ajar), [Part("Door edge", leaf, 246)])
    scene.names = ("Door switch", "Plunger", "Striker", "Terminals", "Striker screws", "Door edge")
    return scene


def limit_parts(gap: float = 0) -> list[Part]:
    """The disc limit on its flange with screws and push-on wires; `gap` draws it apart along y."""
    y = -gap
    flange = (
        plate("y", [(-34, -9), (34, -9), (34, 9), (-34, 9)], (-2 + y, y), 6)
        - rod("y", (-26, 0), 2.4, (-3 + y, 1 + y))
        - rod("y", (26, 0), 2.4, (-3 + y, 1 + y))
    )
    disc = rod("y", (0, 0), 17, (-8 + y, -2 + y)) + rod("y", (0, 0), 14, (-20 + y, -8 + y))
    button = rod("y", (0, 0), 4, (-26 + y, -20 + y))
    tabs = box((-12, -10), (-32 + y, -16 + y), (-4, 4)) + box((10, 12), (-32 + y, -16 + y), (-4, 4))
    made = [
        Part("Heat limit", flange, SHADE),
        Part("Heat limit", disc, 246),
        Part("Reset pin", button, 150),
        Part("Tabs", tabs, METAL),
    ]
    far = gap * 1.75 if gap else 0
    made += [
        Part(
            "Heat limit screws",
            pan_screw("y", (x, 0), 9, -5 - far if gap else -5, 12 if gap else 0, out=-1),
            METAL,
        )
        for x in (-26, 26)
    ]
    for side in (-1, 1):
        sy = -36 - (gap * 1.5 if gap else 0)
        made.append(
            Part("Push-on wires", box((side * 11 - 4, side * 11 + 4), (sy, sy + 16), (-6, 6), 2, "y"), 240)
        )
        tail = [
            (side * 11, sy, 0),
            (side * 13, sy - 10, -3),
            (side * 20, sy - 12, -26),
            (side * 34, sy + 2, -70),
            (side * 44, sy + 18, -112),
        ]
        made.append(Part("Push-on wires", cable(tail, 2.6), 110 if side < 0 else 235))
    return made


def moved(parts: list[Part], by: tuple[float, float, float]) -> list[Part]:
    """Parts elsewhere."""
    return [p.moved(by) for p in parts]


def _serpentine(columns: tuple[float, ...], foot: float, top: float, low: float) -> list[Point]:
    """The element's way: up, over, down, over, up, over, down; straight between its bows."""
    a, b, c, d = columns
    y = -14.0

    def up(x: float, z0: float, z1: float) -> list[Point]:
        return [(x, y, z0 + (z1 - z0) * i / 5) for i in range(6)]

    def bow(x0: float, x1: float, z: float, h: float) -> list[Point]:
        return [(x0 + u * (x1 - x0), y, z + v * h) for u, v in ((0.15, 0.75), (0.5, 1), (0.85, 0.75))]

    rise = [
        (c + 6, y, top + 20),
        (c + 26, y, top + 30),
        ((c + d) / 2, y, top + 30),
        (d - 26, y, top + 30),
        (d - 6, y, top + 20),
    ]
    return [
        *up(a, foot, top),
        *bow(a, b, top, 30),
        *up(b, top, low),
        *bow(b, c, low, -30),
        *up(c, low, top),
        *rise,
        *up(d, top, foot),
    ]


def element() -> Scene:
    """The element plate in the back wall of the chamber, element cover off."""
    scene = Scene(Camera(-20, 14), tall=0.8)
    wall = box((-270, 270), (6, 12), (-180, 180)) - rod("y", (196, 92), 66, (0, 20))
    plate_ = box((-240, 110), (0, 6), (-150, 150), 8, "y")
    way = _serpentine((-210, -150, -90, 70), -130, 90, -60)
    tube = cable(way, 7)
    scene.add(Part("Back wall", wall), Part("Element plate", plate_, 250), Part("Heater element", tube, 225))
    for x, z in ((-210, 0), (-150, 0), (-90, 0), (70, 0)):
        clip = box((x - 13, x + 13), (-22, 0), (z - 8, z + 8), 3, "z")
        scene.add(Part("Clips", clip), Part("Clips", pan_screw("y", (x, z), 9, -24.9, out=-1), METAL))
    scene.add(moved(limit_parts(), (-10, 0, 10)))
    block = box((150, 246), (-26, 6), (-130, -84), 4, "y")
    scene.add(Part("Heater terminals", block, 248))
    for x in (168, 198, 228):
        scene.add(Part("Heater terminals", pan_screw("y", (x, -107), 15, -30.8, out=-1), METAL))
    for x, end in ((-210, 168), (70, 198)):
        drop = [
            (x, -14, -128),
            (x, -14, -146),
            (x + 20, -14, -158),
            ((x + end) / 2, -14, -164),
            (end - 14, -16, -156),
            (end, -20, -132),
        ]
        scene.add(
            Part("Heater wires", cable(drop, 3), 120),
            Part("Heater element", rod("z", (x, -14), 9, (-140, -118)), 205),
        )
    hoop = ring("y", (196, 92), 72, 62, (-4, 6))
    spider = None
    for r in (24, 44):
        hoop_ = ring("y", (196, 92), r + 2, r - 2, (-2, 2))
        spider = hoop_ if spider is None else spider + hoop_
    for a, b in (((132, 0, 92), (260, 0, 92)), ((196, 0, 28), (196, 0, 156))):
        spider += beam(a, b, 5, 5)
    blades = None
    for i in range(5):
        blade = Location((196, 30, 92)) * Rot(0, 72 * i, 0) * box((10, 56), (-2, 2), (-12, 12))
        blades = blade if blades is None else blades + blade
    scene.add(Part("Fan opening", hoop), Part("Fan opening", spider), Part("Fan", blades, 215))
    scene.at = {"Fan opening": (196, -2, 92), "Push-on wires": (13, -48, -16)}
    scene.names = (
        "Element plate", "Heat limit", "Heat limit screws", "Heater terminals", "Push-on wires", "Heater element", "Fan opening",
    )  # fmt: skip
    return scene


def limit_apart() -> Scene:
    """The heat limit, its paste, screws and wires drawn apart."""
    scene = Scene(Camera(-56, 20), tall=0.7)
    wall = (
        box((-60, 60), (0, 5), (-44, 44), 4, "y")
        - rod("y", (-26, 0), 2, (-1, 6))
        - rod("y", (26, 0), 2, (-1, 6))
    )
    film = rod("y", (0, 0), 15, (-36.6, -36))
    scene.add(Part("Element plate", wall, 250), Part("Heat paste", film, 190), limit_parts(80))
    scene.axes = [((0, 0, 0), (0, -116, 0)), ((-26, 0, 0), (-26, -170, 0)), ((26, 0, 0), (26, -170, 0))]
    scene.names = (
        "Element plate",
        "Heat limit",
        "Heat limit screws",
        "Push-on wires",
        "Heat paste",
        "Reset pin",
    )
    return scene


def switch_cut() -> Scene:
    """Plunger, striker and mounting face in the middle plane, door shut."""
    scene = Scene(Camera(-28, 14), tall=0.8, plane=("x", -13))
    keep = box((-13, 300), (-100, 200), (-200, 200))
    angles = {"Door head": 45.0, "Door switch": -45.0, "Striker": 60.0, "Bracket of the switch": 30.0}
    for part in [*door_head(), *switch(4.0), *striker(-21, 0)]:
        if part.name in ("Wires", "Switch screws"):
            continue
        half = part.solid & keep
        if half is not None and getattr(half, "volume", 1) > 1:
            scene.add(Part(part.name, half, part.tone, angles.get(part.name)))
    scene.names = ("Door switch", "Plunger", "Striker", "Door head", "Bracket of the switch")
    return scene
