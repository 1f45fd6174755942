"""The stretcher from outside: base on castors, column, deck with rails, props, isolator; what locks it."""

from __future__ import annotations

from build123d import Location, Rot

from .scene import Camera, Part, Point, Scene
from .shapes import beam, box, cable, ring, rod, soft
from .shared import CABLE, METAL, RUBBER, SHADE, castor, padlock, pan_screw, split_pin

DECK = 640.0
"""Height of the deck's underside on its props."""
ISOLATOR: Point = (-330, -262, 245)


def base(on: bool = True) -> list[Part]:
    """Base frame with cover, castors with brakes, drive wheel, isolator, charge lamp, pedal bar."""
    made = []
    for y in (-230, 230):
        made.append(Part("Base frame", beam((-860, y, 165), (860, y, 165), 60, 50, 8)))
    for x in (-860, 860):
        made.append(Part("Base frame", beam((x, -260, 165), (x, 260, 165), 60, 50, 8)))
        for y in (-230, 230):
            made += castor("Castors", (x * 0.97, y, 140), 62, 15 if x < 0 else 195, brake=2.0)
    cover = box((-480, 480), (-255, 255), (190, 300), 40)
    screws = [pan_screw("z", (x, y), 18, 304) for x in (-420, 0, 420) for y in (-210, 210)]
    made += [Part("Base cover", cover), *(Part("Base screws", s) for s in screws)]
    wheel = rod("y", (0, 85), 85, (-25, 25)) - rod("y", (0, 85), 50, (-26, -20))
    hub = rod("y", (0, 85), 20, (-32, 32))
    fork = box((-26, 26), (-40, -32), (70, 200), 8, "y")
    made += [Part("Drive wheel", wheel, 205), Part("Drive wheel", hub), Part("Drive wheel fork", fork)]
    made += isolator(on)
    made.append(Part("Charge lamp", ring("y", (-190, 250), 20, 14, (-262, -255))))
    made.append(Part("Charge lamp", rod("y", (-190, 250), 14, (-268, -255)), 205))
    made += pedal_bar()
    holes = [("Column test point", 130), ("Relief valve", 210)]
    for name, x in holes:
        made.append(Part(name, ring("y", (x, 240), 20, 13, (-260, -255))))
        made.append(Part(name, rod("y", (x, 240), 9, (-258, -240)), SHADE if x < 200 else 120))
    return made


def isolator(on: bool) -> list[Part]:
    """The rotary isolator with its padlock plate."""
    x, _, z = ISOLATOR
    face = box((x - 46, x + 46), (-262, -255), (z - 46, z + 46), 6, "y")
    dial = rod("y", (x, z), 34, (-270, -262))
    grip = box((-9, 9), (-290, -270), (-30, 30), 5, "y")
    turned = Location((x, 0, z)) * Rot(0, 0 if on else 90, 0) * grip
    made = [
        Part("Battery isolator", face),
        Part("Battery isolator", dial, 235),
        Part("Battery isolator", turned, 170),
    ]
    if not on:
        tongue = box((x + 20, x + 62), (-282, -278), (z - 12, z + 12), 6, "y") - rod(
            "y", (x + 50, z), 7, (-290, -270)
        )
        made.append(Part("Battery isolator", tongue, SHADE))
    return made


def pedal_bar() -> list[Part]:
    """The foot pedals that raise and lower the deck, with a hole for a padlock."""
    made = [Part("Pedal bar", rod("y", (560, 120), 14, (-290, 290)), METAL)]
    for x, z in ((500, 108), (620, 108)):
        arm = beam((560, -280, 120), (x, -300, z), 26, 14, 3)
        pad = box((x - 30, x + 30), (-350, -285), (z - 6, z + 6), 5)
        made += [Part("Pedal bar", arm, SHADE), Part("Pedal bar", pad, RUBBER)]
    ear = box((545, 575), (-272, -266), (130, 180), 8, "y") - rod("y", (560, 165), 8, (-280, -260))
    made.append(Part("Pedal bar", ear, SHADE))
    return made


def column(top: float = DECK) -> list[Part]:
    """The telescopic column with its collar."""
    return [
        Part("Column", rod("z", (0, 0), 95, (300, 470))),
        Part("Column collar", ring("z", (0, 0), 104, 80, (466, 490)), SHADE),
        Part("Column", rod("z", (0, 0), 78, (480, top))),
        Part("Column", box((-170, 170), (-140, 140), (top - 22, top), 12)),
    ]


def deck(z: float = DECK) -> list[Part]:
    """Deck frame, mattress with raised back, drive handle and both rails."""
    made = [Part("Deck", box((-980, 980), (-330, 330), (z, z + 46), 60))]
    made.append(Part("Deck", box((-950, 950), (-300, 300), (z + 46, z + 60), 50)))
    flat = soft((-930, 340), (-280, 280), (z + 60, z + 140), 26)
    back = Location((352, 0, z + 74)) * Rot(0, -24, 0) * soft((0, 600), (-280, 280), (0, 80), 26)
    made += [Part("Mattress", flat, 244), Part("Mattress", back - flat, 244)]
    way = [(975, -230, z + 20), (1050, -230, z + 60), (1090, -230, z + 250), (1095, -200, z + 300), (1095, 0, z + 305),
           (1095, 200, z + 300), (1090, 230, z + 250), (1050, 230, z + 60), (975, 230, z + 20)]  # fmt: skip
    made.append(Part("Push bar", cable(way, 14), 225))
    lever = box((1072, 1092), (-110, 110), (z + 262, z + 284), 8, "y")
    made += [Part("Drive handle", lever, 170)]
    made.append(Part("Battery gauge", box((1070, 1118), (-55, 55), (z + 316, z + 350), 8), SHADE))
    return made + rail(-352, z) + rail(352, z)


def rail(y: float, z: float) -> list[Part]:
    """A side rail on two feet, raised."""
    made = []
    for level in (150, 250, 350):
        made.append(Part("Side rail", rod("x", (y, z + level), 13, (-520, 420)), 250))
    for x in (-520, -50, 420):
        made.append(Part("Side rail", rod("z", (x, y), 13, (z + 40, z + 350)), 250))
    side = -1 if y < 0 else 1
    for x in (-520, 420):
        low, high = sorted((y - side * 22, y + side * 26))
        made.append(Part("Rail foot", box((x - 55, x + 55), (low, high), (z - 30, z + 95), 10, "y")))
    return made


def props(z: float, swung: bool) -> list[Part]:
    """Both deck props: swung in under the deck, or folded down on the base."""
    made = []
    for x, way in ((-640, -1), (640, 1)):
        for y in (-170, 170):
            if swung:
                leg = beam((x, y, 180), (x + way * 30, y, z - 26), 44, 26, 5)
            else:
                leg = beam((x, y, 205), (x - way * -180, y, 205), 44, 26, 5)
            made.append(Part("Deck prop", leg, 242))
        if swung:
            made.append(
                Part(
                    "Deck prop",
                    box((x + way * 30 - 30, x + way * 30 + 30), (-205, 205), (z - 30, z - 2), 6, "y"),
                    242,
                )
            )
        made.append(Part("Prop pivots", rod("y", (x, 205), 14, (-205, 205)), METAL))
    return made


def prop_pins(z: float) -> list[Part]:
    """The pins that hold both props under the deck."""
    return [Part("Prop pin", split_pin((x, 0, z - 16), "y", 9, (-262, 150), 24), METAL) for x in (-670, 670)]


def whole() -> Scene:
    """The stretcher with its deck raised, ready for use."""
    scene = Scene(Camera(-28, 18), tall=0.8)
    scene.names = (
        "Charge lamp", "Battery isolator", "Drive handle", "Side rail", "Deck prop", "Pedal bar", "Castor brake", "Drive wheel",
    )  # fmt: skip
    scene.add(base(), column(), deck(), props(DECK, True), prop_pins(DECK))
    return scene


def plug_case(at: Point) -> list[Part]:
    """A locked case round the charger plug, its cord hanging out."""
    x, y, z = at
    body = box((x, x + 190), (y, y + 120), (z, z + 110), 14) + box(
        (x + 20, x + 170), (y - 8, y), (z + 46, z + 64)
    )
    hasp = box((x + 80, x + 110), (y - 14, y - 8), (z + 34, z + 90), 4, "y") - rod(
        "y", (x + 95, z + 46), 7, (y - 20, y)
    )
    cord = cable(
        [
            (x + 190, y + 60, z + 40),
            (x + 240, y + 60, z + 36),
            (x + 300, y + 90, z + 12),
            (x + 380, y + 140, z + 10),
        ],
        9,
    )
    made = [Part("Plug case", body), Part("Plug case", hasp, METAL), Part("Charger cord", cord, CABLE)]
    return made + [
        Part("Padlock of the plug", p.solid, p.tone) for p in padlock((x + 95, y - 11, z + 46), 56)
    ]


def locked() -> Scene:
    """Deck on its props with the pins home, isolator padlocked, plug in its case."""
    scene = Scene(Camera(-28, 18), tall=0.8, below=100)
    scene.at = {"Deck prop": (655, -170, 397)}
    scene.names = (
        "Deck prop", "Prop pin", "Battery isolator", "Padlock of the isolator", "Plug case", "Pedal bar", "Castor brake",
    )  # fmt: skip
    scene.add(base(on=False), column(), deck(), props(DECK, True), prop_pins(DECK))
    x, _, z = ISOLATOR
    scene.add(Part("Padlock of the isolator", p.solid, p.tone) for p in padlock((x + 50, -282, z), 64))
    scene.add(plug_case((-260, -640, 0)))
    return scene
