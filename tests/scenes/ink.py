"""The drawing as a small SVG: tones, hatch, thin lines of what is seen, a heavier line round each part and all."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from shapely import LineString, MultiLineString, Polygon, box, line_merge, unary_union

from .camera import Rows

INK = "#1a1a1a"
THIN, PART, WHOLE, HATCH, AXIS = 1.8, 3.0, 5.2, 1.3, 1.5
"""Widths of lines in pixels of a picture 1200 wide."""


def clipped(strokes: Iterable[Rows], width: int, height: int, off: float) -> list[Rows]:
    """Strokes joined where they meet, without what is outside, no more points than the eye needs."""
    lines = [LineString(np.round(s, 2)) for s in strokes if len(s) > 1 and np.ptp(s, axis=0).max() > 0.4]
    if not lines:
        return []
    inside = line_merge(unary_union(MultiLineString(lines).simplify(off))).intersection(
        box(0, 0, width, height)
    )
    parts = getattr(inside, "geoms", [inside])
    return [np.array(p.simplify(off).coords) for p in parts if p.geom_type == "LineString"]


def path(rows: Iterable[Rows], closed: bool = False) -> str:
    """Path data, relative and with a tenth of a pixel."""
    out = []
    for row in rows:
        whole = np.round(row * 10).astype(int)
        steps = np.diff(whole, axis=0)
        steps = steps[np.any(steps != 0, axis=1)]
        if not len(steps):
            continue
        moves = " ".join(f"{_n(x)} {_n(y)}" for x, y in steps.tolist())
        out.append(f"M{_n(whole[0][0])} {_n(whole[0][1])}l{moves}" + ("z" if closed else ""))
    return "".join(out)


def _n(tenths: int) -> str:
    return f"{tenths / 10:g}"


def hatched(area: Polygon, angle: float, pitch: float = 9.0) -> list[Rows]:
    """Lines at an angle through an area."""
    left, top, right, bottom = area.bounds
    reach = float(np.hypot(right - left, bottom - top))
    turn = np.radians(-angle)
    along, across = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    middle = np.array([(left + right) / 2, (top + bottom) / 2])
    rows = []
    for step in range(-int(reach / pitch) - 1, int(reach / pitch) + 2):
        at = middle + across * pitch * step
        cut = LineString([at - along * reach, at + along * reach]).intersection(area)
        rows += [
            np.array(g.coords)
            for g in getattr(cut, "geoms", [cut])
            if g.geom_type == "LineString" and g.length
        ]
    return rows


class Sheet:
    """Collects what is drawn, from below to above."""

    def __init__(self, width: int, height: int):
        """Begin with white paper."""
        self.size = width, height
        self.body: list[str] = [f'<path fill="#fff" d="M0 0h{width}v{height}h-{width}z"/>']

    def tone(self, rings: list[Rows], grey: int) -> None:
        """Fill areas."""
        slim = [np.array(LineString(r).simplify(0.3).coords) for r in rings if len(r) > 3]
        data = path(slim, closed=True)
        if data:
            self.body.append(f'<path fill="#{grey:02x}{grey:02x}{grey:02x}" fill-rule="evenodd" d="{data}"/>')

    def lines(
        self, strokes: Iterable[Rows], wide: float, dashes: str = "", merge: bool = True, off: float = 0.25
    ) -> None:
        """Draw strokes of one width."""
        rows = clipped(strokes, *self.size, off) if merge else list(strokes)
        data = path(rows)
        dash = f' stroke-dasharray="{dashes}"' if dashes else ""
        if data:
            self.body.append(f'<path stroke-width="{wide:g}"{dash} d="{data}"/>')

    def text(self) -> str:
        """The file."""
        w, h = self.size
        head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}" height="{h}" viewBox="0 0 {w} {h}">'
        group = f'<g fill="none" stroke="{INK}" stroke-linecap="round" stroke-linejoin="round">'
        first = self.body[0]
        fills = [b for b in self.body[1:] if "fill=" in b]
        strokes = [b for b in self.body[1:] if "fill=" not in b]
        return "\n".join([head, first, *fills, group, *strokes, "</g>", "</svg>"]) + "\n"
