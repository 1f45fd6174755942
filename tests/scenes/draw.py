"""From a scene to its drawing and to the places that the text points at."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from shapely import LineString, Polygon

from .camera import Paper, Rows
from .ink import AXIS, HATCH, PART, THIN, WHOLE, Sheet, hatched
from .lines import cut_faces, seen_lines
from .mask import Mask
from .scene import Part, Scene

FACET = 1800
"""The triangles of the buffer leave the true surface by at most the scene's size by this, and 0.2 radians."""


@dataclass
class Drawn:
    """A finished picture."""

    svg: str
    width: int
    height: int
    items: dict[str, list[int]] = field(default_factory=dict)
    motions: list[str] = field(default_factory=list)
    scale: list[list[int]] = field(default_factory=list)

    def facts(self) -> dict[str, Any]:
        """What is kept beside the picture."""
        size = {"width": self.width, "height": self.height, "items": self.items}
        return (
            size
            | ({"motions": self.motions} if self.motions else {})
            | ({"scale": self.scale} if self.scale else {})
        )


def mesh(part: Part, off: float) -> tuple[Rows, Rows]:
    """Points and triangles of a part, `off` millimetres from the true surface at most."""
    points, faces = part.solid.tessellate(off, 0.2)
    return np.array([(p.X, p.Y, p.Z) for p in points]), np.array(faces)


def drawn(scene: Scene) -> Drawn:
    """The drawing and its places. Raises ValueError where a named part is hidden."""
    size = scene.frame[1] if scene.frame else max(p.solid.bounding_box().diagonal for p in scene.parts)
    meshes = [mesh(p, size / FACET) for p in scene.parts]
    everything = [points for points, _ in meshes] + [np.array(a) for a in scene.axes]
    paper = Paper(scene.camera, np.vstack(everything), scene.width, scene.tall, scene.frame)
    paper.height += scene.below
    mask = Mask(paper, meshes)
    sheet = Sheet(paper.width, paper.height)
    _tones(sheet, scene, mask)
    _hatches(sheet, scene, paper)
    strokes = [paper.on_paper(s) for s in seen_lines([p.solid for p in scene.parts], scene.camera)]
    sheet.lines(strokes, THIN)
    _axes(sheet, scene, paper, mask)
    for name in dict.fromkeys(p.name for p in scene.parts):
        here = mask.seen([i for i, p in enumerate(scene.parts) if p.name == name])
        sheet.lines(mask.outline(here), PART, off=0.5)
    sheet.lines(mask.outline(mask.part >= 0), WHOLE, off=0.5)
    out = Drawn(sheet.text(), paper.width, paper.height)
    for name in scene.names:
        out.items[name] = list(mask.place(name, scene.parts, scene.at.get(name)))
    for motion in scene.motions:
        x, y = (round(n) for n in paper.put([motion.at])[0][:2])
        out.motions.append(" ".join(f"{motion.kind} {x},{y} {motion.way} {motion.amount}".split()))
    if scene.length is not None:
        out.scale = [[round(n) for n in row[:2]] for row in paper.put(scene.length)]
    return out


def _tones(sheet: Sheet, scene: Scene, mask: Mask) -> None:
    for grey in sorted({p.tone for p in scene.parts if p.tone < 255}, reverse=True):
        here = mask.seen([i for i, p in enumerate(scene.parts) if p.tone == grey])
        sheet.tone(mask.outline(here), grey)


def _hatches(sheet: Sheet, scene: Scene, paper: Paper) -> None:
    for part in scene.parts if scene.plane else []:
        if part.hatch is None:
            continue
        for rings in cut_faces(part.solid, scene.plane):
            outer, *holes = [paper.put(r)[:, :2] for r in rings]
            area = Polygon(outer, holes).buffer(0)
            if not area.is_empty:
                for piece in getattr(area, "geoms", [area]):
                    sheet.lines(hatched(piece, part.hatch), HATCH, merge=False)


def _axes(sheet: Sheet, scene: Scene, paper: Paper, mask: Mask) -> None:
    """Chain lines where nothing stands before them."""
    for a, b in scene.axes:
        points = np.linspace(a, b, 400)
        free, run = mask.free(points), []
        for point, open_ in zip(paper.put(points)[:, :2], free, strict=True):
            if open_:
                run.append(point)
            if (not open_ or point is points[-1]) and len(run) > 1:
                sheet.lines([np.array(LineString(run).coords)], AXIS, "16 5 3 5", merge=False)
                run = []
        if len(run) > 1:
            sheet.lines([np.array(run)], AXIS, "16 5 3 5", merge=False)
