"""The lines that are seen: the exact hidden-line removal of the modelling kernel, sampled into short strokes."""

from __future__ import annotations

from typing import Any

import numpy as np
from build123d import Compound, Edge
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape

from .camera import Rows, axes
from .scene import Camera, Solid


def seen_lines(solids: list[Solid], camera: Camera, smooth: bool = False) -> list[Rows]:
    """Strokes in projected millimetres (right, up); edges that only join rounded faces are left out."""
    right, _, near = axes(camera)
    algorithm = HLRBRep_Algo()
    for solid in solids:
        algorithm.Add(solid.wrapped)
    algorithm.Projector(
        HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*near.tolist()), gp_Dir(*right.tolist())))
    )
    algorithm.Update()
    algorithm.Hide()
    found = HLRBRep_HLRToShape(algorithm)
    kinds = [found.VCompound(), found.OutLineVCompound()] + ([found.Rg1LineVCompound()] if smooth else [])
    return [stroke for kind in kinds if kind is not None and not kind.IsNull() for stroke in _strokes(kind)]


def _strokes(shape: Any) -> list[Rows]:
    from OCP.BRepLib import BRepLib

    BRepLib.BuildCurves3d_s(shape)
    return [_stroke(edge) for edge in Compound(shape).edges()]


def _stroke(edge: Edge) -> Rows:
    """Straight edges keep their two ends, others get a point every few degrees."""
    count = 1 if edge.geom_type.name == "LINE" else 24
    points = [edge.position_at(i / count) for i in range(count + 1)]
    return np.array([(p.X, p.Y) for p in points])


def cut_faces(solid: Solid, plane: tuple[str, float]) -> list[list[Rows]]:
    """The faces of a solid that lie on a cutting plane: each an outline and its holes, as points in space."""
    index = "xyz".index(plane[0])
    found = []
    for face in solid.faces():
        middle, way = face.center(), face.normal_at()
        where, along = (middle.X, middle.Y, middle.Z)[index], (way.X, way.Y, way.Z)[index]
        if abs(where - plane[1]) < 1e-3 and abs(along) > 0.999:
            found.append([_round(w) for w in (face.outer_wire(), *face.inner_wires())])
    return found


def _round(wire: Any) -> Rows:
    """Points along a closed wire, edge by edge so that corners stay sharp."""
    rows = []
    for edge in wire.order_edges():
        count = 1 if edge.geom_type.name == "LINE" else 24
        rows += [edge.position_at(i / count) for i in range(count + 1)]
    return np.array([(p.X, p.Y, p.Z) for p in rows])
