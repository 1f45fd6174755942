"""The patient lift with its covers off: the charge path, the base, the pad block cut open, the lead's small parts."""

from __future__ import annotations

from dataclasses import replace

from .lift import dock, pack
from .scene import Camera, Motion, Part, Scene
from .shapes import beam, box, cable, coil, hexagon, plate, ring, rod, soft
from .shared import CABLE, METAL, RUBBER, SHADE, cap_screw, pan_screw

PADS = (-32.0, 32.0)


def pad_block() -> list[Part]:
    """The block at the back of the base with two pads and their screws on the inner side."""
    made = [Part("Pad block", box((-196, -150), (-62, 62), (132, 182), 6, "x"), SHADE)]
    for y in PADS:
        made.append(Part("Pads", rod("x", (y, 157), 15, (-202, -196)), METAL))
        made.append(Part("Pad screws", cap_screw("x", (y, 157), 15, -138, out=1), METAL))
        made.append(Part("Pad screws", ring("x", (y, 157), 11, 4, (-150, -147)), METAL))
    return made


def cores() -> list[Part]:
    """Both cores from the pad screws to the jacket."""
    made = []
    for y in PADS:
        way = [
            (-145, y, 150),
            (-140, y - 2, 138),
            (-128, y * 0.6 - 14, 134),
            (-112, y * 0.2 - 26, 134),
            (-100, -34, 134),
        ]
        made.append(Part("Cores", cable(way, 3.2), 120 if y < 0 else 235))
    return made


ROUTE = [
    (-104, -32, 134), (-84, -60, 134), (-60, -92, 134), (-20, -118, 134), (30, -128, 136), (66, -118, 138),
    (76, -90, 142), (74, -50, 150), (64, -22, 158), (46, -10, 160),
]  # fmt: skip
"""The new way of the lead: behind the cross tube to the mouth of the mast."""


def pan() -> list[Part]:
    """The floor of the base with its rims and cross tube."""
    floor = box((-200, 190), (-235, 235), (122, 128), 30)
    rims = box((-200, 190), (229, 235), (128, 160)) + box((-200, -194), (-205, 205), (128, 160))
    rims -= box((-201, -190), (-64, 64), (128, 170))
    tube = rod("y", (112, 150), 20, (-200, 200))
    ends = [Part("Base", box((86, 138), (s * 200 - 5, s * 200 + 5), (128, 178), 4, "y")) for s in (-1, 1)]
    bosses = None
    for x, y in ((-170, -150), (-170, 150), (165, -190), (165, 190)):
        post = ring("z", (x, y), 10, 4, (128, 158))
        bosses = post if bosses is None else bosses + post
    return [
        Part("Base", floor),
        Part("Base", rims),
        *ends,
        Part("Base", bosses),
        Part("Cross tube", tube, 244),
    ]


def mast_foot(top: float) -> list[Part]:
    """The lower end of the mast with its mouth and the grommet in it."""
    post = box((-46, 46), (-42, 42), (128, top), 10) - box((-42, 42), (-38, 38), (120, top + 1), 8)
    post -= rod("x", (-10, 160), 17, (40, 50))
    flange = box((-66, 66), (-62, 62), (128, 136), 8) - box((-45, 45), (-41, 41), (120, 140))
    made = [Part("Mast", post), Part("Mast", flange)]
    made += [
        Part("Mast bolts", hexagon("z", (x, y), 15, (136, 144)), METAL) for x in (-57, 57) for y in (-53, 53)
    ]
    return [*made, Part("Edge grommet", ring("x", (-10, 160), 20, 9, (44, 56)), RUBBER)]


def linkage() -> list[Part]:
    """Hub, link bars and the inner ends of the legs, in front of the cross tube."""
    made = [
        Part("Hub", rod("z", (158, 0), 30, (146, 160))),
        Part("Hub", rod("z", (158, 0), 12, (128, 176)), METAL),
    ]
    for side in (-1, 1):
        near, far = (158, side * 16, 163), (172, side * 178, 163)
        made.append(Part("Link bar", beam(near, far, 24, 7, 2), SHADE))
        for x, y in ((158, side * 16), (172, side * 178)):
            made.append(Part("Link pivots", rod("z", (x, y), 14, (159, 167.5)), METAL))
            made.append(Part("Link pivots", hexagon("z", (x, y), 15, (167.5, 176)), METAL))
        made.append(Part("Legs", box((140, 420), (side * 205 - 32, side * 205 + 32), (96, 120), 6)))
        made.append(Part("Legs", box((150, 190), (side * 190 - 24, side * 190 + 14), (128, 158), 6)))
    return made


def spring() -> list[Part]:
    """The spreader spring from the hub's arm back to its tension nut."""
    rod_ = rod("x", (112, 152), 5, (-188, 96))
    wire = coil((-120, 112, 152), "x", 17, 3.2, 190, 13)
    nut = hexagon("x", (112, 152), 26, (-152, -136))
    seat = ring("x", (112, 152), 22, 6, (-136, -122)) + ring("x", (112, 152), 22, 6, (72, 80))
    block = box((-186, -168), (94, 130), (128, 178), 4, "x") - rod("x", (112, 152), 7, (-190, -160))
    eye = box((80, 100), (100, 124), (128, 168), 6, "y")
    return [
        Part("Tension rod", rod_, METAL), Part("Spreader spring", wire, SHADE), Part("Tension nut", nut, METAL),
        Part("Spring seats", seat), Part("Base", block), Part("Base", eye),
    ]  # fmt: skip


def lead(route: list[tuple[float, float, float]] = ROUTE) -> list[Part]:
    """The jacketed lead and its clips."""
    made = [Part("Charge lead", cable(route, 6), CABLE)]
    for x, y in ((-60, -92), (30, -128)):
        made.append(Part("Lead clip", box((x - 8, x + 8), (y - 11, y + 11), (128, 144), 3, "x"), 255))
    return made


def open_base() -> Scene:
    """The base from above without its cover."""
    scene = Scene(Camera(30, 46), tall=0.85, frame=((0, 0, 150), 560))
    scene.names = (
        "Charge lead",
        "Lead clip",
        "Link bar",
        "Spreader spring",
        "Tension nut",
        "Pad block",
        "Edge grommet",
        "Cross tube",
    )
    scene.add(pan(), mast_foot(235), pad_block(), cores(), linkage(), spring(), lead())
    return scene


def mast_inside() -> list[Part]:
    """The mast opened towards the viewer, with connector, fuse and jacks on its back plate."""
    post = box((-46, 46), (-42, 42), (128, 700), 10) - box((-42, 42), (-60, 38), (150, 545), 2)
    post -= box((-42, 42), (-38, 38), (120, 710))
    made = [Part("Mast", post), Part("Mast", box((-46, 46), (-42, -38), (560, 700)))]
    made.append(Part("Panel", box((-40, 40), (26, 32), (300, 540), 3, "y"), 248))
    lower = box((-16, 16), (2, 26), (318, 350), 3, "y") + box((-12, 12), (4, 24), (350, 356))
    upper = box((-18, 18), (0, 26), (356, 384), 3, "y") + box((-5, 5), (-4, 0), (352, 374))
    made += [Part("Plug X4", lower, SHADE), Part("Plug X4", upper)]
    holder = box((-15, 15), (12, 26), (410, 486), 3, "y")
    made.append(Part("Fuse holder", holder))
    made.append(Part("Fuse F2", rod("z", (0, 4), 6.5, (428, 468)), 250))
    made += [Part("Fuse F2", rod("z", (0, 4), 7.6, s), METAL) for s in ((418, 430), (466, 478))]
    clips = None
    for z in (424, 472):
        clip = (
            box((-10, 10), (2, 13), (z - 4, z + 4))
            - rod("z", (0, 4), 7.7, (z - 6, z + 6))
            - box((-4, 4), (-6, 3), (z - 6, z + 6))
        )
        clips = clip if clips is None else clips + clip
    made.append(Part("Fuse holder", clips, SHADE))
    made.append(Part("Jacks J1 to J3", box((-38, 38), (-48, -42), (585, 641), 6, "y")))
    for x in (-24, 0, 24):
        made.append(Part("Jacks J1 to J3", ring("y", (x, 613), 9.5, 5, (-58, -48)), SHADE))
    wires = [
        [(0, 14, 384), (0, 14, 396), (0, 14, 410)], [(0, 14, 486), (-4, 14, 510), (-18, 14, 530), (-24, 0, 560)],
        [(10, 14, 486), (16, 14, 505), (22, 14, 525), (24, 0, 560)],
    ]  # fmt: skip
    made += [Part("Wires", cable(w, 3), c) for w, c in zip(wires, (120, 120, 235), strict=True)]
    return made


def charge_path() -> Scene:
    """From the dock to the pack, covers off."""
    scene = Scene(Camera(14, 18), tall=0.95, frame=((-150, 0, 420), 700))
    scene.at = {"Charge lead": (0, -4, 245)}
    scene.names = (
        "Dock plunger", "Dock lamp", "Pad block", "Charge lead", "Plug X4", "Fuse F2", "Jacks J1 to J3", "Pack", "Pad screw",
    )  # fmt: skip
    way = [
        (-104, -40, 134),
        (-90, -70, 134),
        (-60, -92, 136),
        (-20, -96, 140),
        (10, -80, 150),
        (14, -56, 165),
        (4, -38, 190),
        (0, -10, 230),
        (0, 10, 280),
        (0, 14, 318),
    ]
    floor = box((-200, 150), (-150, 150), (122, 128), 20)
    block = [replace(p, name=p.name.replace("screws", "screw")) for p in pad_block()]
    apart = [replace(p, name=p.name.replace("plungers", "plunger")).moved((-70, 0, 0)) for p in dock()]
    scene.add(apart, [Part("Base", floor)], block, cores(), mast_inside(), pack())
    scene.add(Part("Charge lead", cable(way, 6), CABLE))
    scene.add(Part("Lead clip", box((-68, -52), (-103, -81), (128, 146), 3, "x")))
    return scene


def pad_cut() -> Scene:
    """A plunger on its pad, cut through the middle."""
    y, z = 0.0, 0.0
    cut = box((-200, 200), (-100, 0), (-100, 100))
    solids: list[tuple[str, object, int, float | None]] = [
        ("Dock front", plate("x", [(-60, -42), (60, -42), (60, 42), (-60, 42)], (-92, -84)) - rod("x", (y, z), 9.4, (-95, -80)), 255, 45),
        ("Dock plunger", rod("x", (y, z), 9, (-110, -34)) + rod("x", (y, z), 12, (-110, -102)), METAL, None),
        ("Pad block", box((-30, 34), (-46, 46), (-36, 36), 6, "x") - rod("x", (y, z), 15.4, (-31, 18)) - rod("x", (y, z), 6.4, (10, 35)), SHADE, -45),
        ("Pad", rod("x", (y, z), 15, (-34, -22)) + rod("x", (y, z), 6, (-22, 52)) - rod("x", (y, z), 2.6, (30, 53)), METAL, 30),
        ("Pad screw", cap_screw("x", (y, z), 12, 66, 24, out=1), 255, None),
        ("Cable lug", ring("x", (y, z), 9, 3.4, (52, 55)) + box((52, 55), (-4, 4), (-34, -6)), METAL, 60),
        ("Stop ring", ring("x", (y, z), 10.5, 6.05, (36, 39)), METAL, 60),
    ]  # fmt: skip
    scene = Scene(Camera(-22, 18), tall=0.62, plane=("y", 0.0))
    for name, solid, tone, hatch in solids:
        keep = solid if name in ("Pad screw", "Dock plunger") else solid - cut
        scene.add(Part(name, keep, tone, hatch))
    scene.add(Part("Pad spring", coil((-20, 0, 0), "x", 11, 1.5, 29, 5), 255))
    core = cable([(53.5, 0, -34), (54, 0, -44), (62, 4, -56), (80, 8, -62)], 4)
    scene.add(Part("Core", core, 120))
    scene.names = (
        "Dock plunger",
        "Pad",
        "Pad spring",
        "Pad block",
        "Cable lug",
        "Pad screw",
        "Stop ring",
        "Core",
    )
    scene.motions = [Motion("push", (-44, -9, 0), "right")]
    return scene


def lead_parts() -> Scene:
    """Lead, grommet, clip and pad screw drawn apart along their axes."""
    scene = Scene(Camera(28, 26), tall=0.66)
    sheet = box((-2, 2), (-60, 60), (-50, 60), 4, "x") - rod("x", (0, 10), 15, (-5, 5))
    scene.add(Part("Mouth of the mast", sheet, 248))
    grommet = (
        ring("x", (0, 10), 18, 9, (40, 43))
        + ring("x", (0, 10), 15, 9, (43, 47))
        + ring("x", (0, 10), 18, 9, (47, 52))
    )
    scene.add(Part("Edge grommet", grommet, RUBBER))
    scene.add(
        Part(
            "Charge lead",
            cable([(100, 0, 10), (130, 0, 10), (165, 0, 10), (220, 6, 6), (270, 4, -14), (300, -6, -30)], 8),
            CABLE,
        )
    )
    plug = soft((66, 100), (-15, 15), (-2, 22), 3) + box((76, 92), (-4, 4), (22, 26))
    scene.add(Part("Plug X4", plug, SHADE))
    clip = (
        ring("x", (4, -19), 13, 8.2, (182, 200))
        + box((182, 200), (14, 34), (-34, -30))
        - rod("z", (191, 26), 3, (-40, -20))
    )
    clip += box((182, 200), (4, 14), (-34, -28))
    scene.add(Part("Lead clip", clip))
    scene.add(Part("Clip screw", pan_screw("z", (191, 26), 11, 34, 12), METAL))
    scene.axes = [((2, 0, 10), (112, 0, 10)), ((191, 26, 50), (191, 26, -60))]
    scene.names = ("Mouth of the mast", "Edge grommet", "Plug X4", "Charge lead", "Lead clip", "Clip screw")
    return scene
