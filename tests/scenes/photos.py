"""Two models of the lift as an author's camera might see them: worn pads, and a lead sawn through by the link bar.

The solids are meshed here; Blender (package bpy, an environment of its own) gives them light. The path of its
Python is asked for in the environment variable `BPY_PYTHON`.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from .lift_inside import linkage, pan
from .scene import Part, Point
from .shapes import box, cable, ring, rod, soft

LOOKS = {
    "Base": "paint", "Pad block": "plastic", "Pad": "brass", "Worn pad": "worn", "Legs": "paint", "Link bar": "steel", "Hub": "paint",
    "Link pivots": "steel", "Cross tube": "paint", "Charge lead": "rubber", "Strands": "copper", "Red core": "red",
    "Black core": "rubber", "Lead clip": "clip", "Label": "label", "Print": "rubber", "Bench": "bench",
}  # fmt: skip
"""Part to material."""


def _label() -> list[Part]:
    """A plate with a serial number on the block, which the figure covers."""
    made = [Part("Label", box((-192, -158), (-24, 24), (182, 182.4)))]
    made.append(Part("Label", box((-200, -199.4), (-50, 50), (102, 120))))
    for i, wide in enumerate((30, 18, 24, 12)):
        y = -46 + sum((30, 18, 24, 12)[:i]) + 3 * i
        made.append(Part("Print", box((-200.2, -199.4), (y, y + wide - 4), (107, 115))))
    return made


def pads(worn: bool) -> tuple[list[Part], Point, Point, dict[str, Point]]:
    """Pad block seen from behind the lift; parts, camera, what it looks at, and the places."""
    wall = box((-199, -190), (-130, 130), (95, 230), 8, "x") - box(
        (-210, -180), (-66, 66), (128, 188), 5, "x"
    )
    block = soft((-196, -150), (-62, 62), (132, 182), 4)
    for y in (-32, 32):
        block -= rod("x", (y, 157), 15.4, (-210, -170))
    made = [Part("Base", wall), Part("Pad block", block), *_label()[1:]]
    for y, sunk in ((-32, 7.0 if worn else 0.0), (32, 0.0)):
        made.append(Part("Pad block", ring("x", (y, 157), 18, 15.3, (-198, -190))))
        bevel = ring("x", (y, 157), 15, 12.5, (-203 + sunk, -190))
        face = rod("x", (y, 157), 12.5, (-204.2 + sunk, -190))
        made += [Part("Worn pad" if worn else "Pad", s) for s in (bevel, face)]
    made.append(Part("Bench", box((-185, -180), (-600, 600), (-200, 600))))
    return (
        made,
        (-380, -95, 215),
        (-196, 0, 150),
        {"Pad": (-204, 32, 157), "Sunken pad" if worn else "New pad": (-197 if worn else -204, -32, 157)},
    )


def chafed() -> tuple[list[Part], Point, Point, dict[str, Point]]:
    """The lead over the link bar, its jacket sawn through; parts, camera, what it looks at, and the places."""
    made = [p for p in [*pan(), *linkage()] if p.name in LOOKS]
    made += [Part("Bench", box((-900, 900), (-900, 900), (60, 70)))]
    before = [
        (20, -128, 136),
        (60, -126, 148),
        (88, -120, 170),
        (112, -113, 178.5),
        (136, -104, 182),
        (150, -97, 182.5),
    ]
    after = [(171, -86, 181.5), (184, -80, 180), (215, -62, 150), (250, -40, 136), (300, -20, 134)]
    made += [Part("Charge lead", cable(before, 6)), Part("Charge lead", cable(after, 6))]
    made += [Part("Red core", cable([(146, -96, 183.5), (154, -93, 184), (160, -90, 184.5)], 2.4))]
    made += [Part("Black core", cable([(146, -100, 180), (160, -94, 180), (175, -86, 180)], 2.4))]
    for i in range(9):
        dz, dy = (i % 3 - 1) * 1.1, (i // 3 - 1) * 1.0
        end = (167 + i % 4 * 2.0, -86 + dy * 3.2, 184 + dz * 3.4)
        made.append(
            Part(
                "Strands",
                cable([(158, -91 + dy, 184.4 + dz), (163, -88.5 + dy * 1.8, 184.6 + dz * 1.9), end], 0.45),
            )
        )
    made.append(Part("Strands", cable([(172, -85, 184), (176, -83.5, 183.5), (182, -81, 182.5)], 2.0)))
    made.append(Part("Lead clip", box((50, 66), (-138, -115), (128, 147), 3, "x")))
    places = {
        "Charge lead": (112, -113, 184),
        "Link bar": (165, -120, 167),
        "Cross tube": (112, -40, 170),
        "Copper strands": (164, -88, 185),
    }
    return made, (250, -330, 330), (146, -92, 168), places


def pads_found() -> tuple[list[Part], Point, Point, dict[str, Point]]:
    """Black, pitted, one sunk."""
    return pads(True)


def pads_left() -> tuple[list[Part], Point, Point, dict[str, Point]]:
    """Bright and level."""
    return pads(False)


def render(target: Path, name: str) -> dict[str, Any]:
    """Render one illustration; its size and places. Raises RuntimeError when Blender says no."""
    made: Callable[[], Any] = globals()[name.rsplit(".", 1)[1]]
    parts, eye, look, places = made()
    meshes = []
    for part in parts:
        points, faces = part.solid.tessellate(0.05, 0.1)
        meshes.append(
            {
                "name": part.name,
                "look": LOOKS[part.name],
                "points": [(p.X, p.Y, p.Z) for p in points],
                "faces": faces,
            }
        )
    job = {
        "meshes": meshes,
        "eye": eye,
        "look": look,
        "places": places,
        "target": str(target),
        "size": [1200, 900],
    }
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "job.json").write_text(json.dumps(job), encoding="utf-8")
        python = os.environ.get("BPY_PYTHON", sys.executable)
        script = Path(__file__).with_name("blender.py")
        done = subprocess.run([python, str(script), folder], check=False, capture_output=True, text=True)
        found = Path(folder) / "places.json"
        if not found.exists():
            raise RuntimeError(done.stdout[-800:] + done.stderr[-2000:])
        items = json.loads(found.read_text(encoding="utf-8"))
    print(target.name, f"{target.stat().st_size:,} bytes", flush=True)
    return {"width": 1200, "height": 900, "items": items}
