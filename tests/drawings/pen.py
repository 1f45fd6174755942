"""A sheet of paper, a parallel camera and an ink pen: thick outlines, thin inner edges, white solids.

Lengths in the scene are millimetres (x right, y away from the viewer, z up), on paper they are pixels.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import cos, radians, sin
from pathlib import Path

from PIL import Image, ImageDraw

Point = tuple[float, float, float]
Spot = tuple[float, float]

INK = 30
PAPER = 255
OVER = 3  # drawn three times as large and scaled down, so lines come out smooth
THICK = 2.8
THIN = 1.3


@dataclass(frozen=True)
class View:
    """A parallel camera: turned by yaw, looking down by pitch (degrees), `about` lands on `at`."""

    yaw: float
    pitch: float
    zoom: float
    about: Point = (0, 0, 0)
    at: Spot = (500, 375)

    def _turn(self, p: Point) -> Point:
        x, y, z = (a - b for a, b in zip(p, self.about, strict=True))
        a = radians(self.yaw)
        return (x * cos(a) - y * sin(a), x * sin(a) + y * cos(a), z)

    def flat(self, p: Point) -> Spot:
        """Where a point of the scene lies on the paper, in pixels."""
        x, y, z = self._turn(p)
        b = radians(self.pitch)
        return (self.at[0] + self.zoom * x, self.at[1] - self.zoom * (z * cos(b) + y * sin(b)))

    def near(self, p: Point) -> float:
        """How near to the viewer a point is; larger is nearer."""
        _, y, z = self._turn(p)
        b = radians(self.pitch)
        return z * sin(b) - y * cos(b)


@dataclass(frozen=True)
class Patch:
    """One face on paper: filled with its tone, its edge drawn thin if `edge`."""

    spots: tuple[Spot, ...]
    near: float
    tone: int = PAPER
    edge: bool = True


@dataclass
class Sheet:
    """The paper; parts are put on it from far to near."""

    view: View
    size: tuple[int, int] = (1000, 750)
    items: list[tuple[str, Spot]] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Lay out the oversized paper."""
        self.image = Image.new("L", (self.size[0] * OVER, self.size[1] * OVER), PAPER)
        self._draw = ImageDraw.Draw(self.image)

    def part(self, patches: Iterable[Patch], weight: float = THICK) -> None:
        """Draw a solid: first a thick line round every face, then the faces over it."""
        faces = sorted(patches, key=lambda f: f.near)
        for face in faces:
            self._stroke([*face.spots, face.spots[0]], 2 * weight)
        for face in faces:
            self._draw.polygon([(x * OVER, y * OVER) for x, y in face.spots], fill=face.tone)
            if face.edge:
                self._stroke([*face.spots, face.spots[0]], THIN)

    def line(self, points: Sequence[Point], width: float = THIN, ink: int = INK) -> None:
        """Draw a line through points of the scene; width in pixels."""
        self._stroke([self.view.flat(p) for p in points], width, ink)

    def tube(self, points: Sequence[Point], bore: float, tone: int = PAPER) -> None:
        """Draw a round tube, hose or wire of diameter `bore` mm along the points."""
        spots = [self.view.flat(p) for p in points]
        width = bore * self.view.zoom
        self._stroke(spots, width + 2 * THICK)
        self._stroke(spots, width, tone)

    def item(self, name: str, point: Point) -> None:
        """Remember where a numbered item is; the number itself is not drawn."""
        self.items.append((name, self.view.flat(point)))

    def _stroke(self, spots: Sequence[Spot], width: float, ink: int = INK) -> None:
        big = [(x * OVER, y * OVER) for x, y in spots]
        w = max(1, round(width * OVER))
        self._draw.line(big, fill=ink, width=w)
        r = (w - 1) / 2
        for x, y in big if w > 4 else []:
            self._draw.ellipse((x - r, y - r, x + r, y + r), fill=ink)

    def save(self, path: Path) -> None:
        """Write a small grey PNG."""
        small = self.image.resize(self.size, Image.Resampling.LANCZOS)
        steps = small.point([min(255, round(v / 17) * 17) for v in range(256)])
        steps.save(path, optimize=True)


def curve(points: Sequence[Point], steps: int = 14) -> list[Point]:
    """A smooth line through all points (Catmull-Rom)."""
    ends = [points[0], *points, points[-1]]
    out: list[Point] = []
    for a, b, c, d in zip(ends, ends[1:], ends[2:], ends[3:], strict=False):
        out += [_mid(a, b, c, d, i / steps) for i in range(steps)]
    return [*out, points[-1]]


def _mid(a: Point, b: Point, c: Point, d: Point, t: float) -> Point:
    x, y, z = (
        0.5 * (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t * t + (3 * q - p - 3 * r + s) * t**3)
        for p, q, r, s in zip(a, b, c, d, strict=True)
    )
    return (x, y, z)


def hull(spots: Sequence[Spot]) -> tuple[Spot, ...]:
    """The convex outline of spots on paper (monotone chain)."""
    pts = sorted(set(spots))

    def chain(row: Iterable[Spot]) -> list[Spot]:
        out: list[Spot] = []
        for p in row:
            while len(out) > 1 and _left(out[-2], out[-1], p) <= 0:
                out.pop()
            out.append(p)
        return out[:-1]

    return (*chain(pts), *chain(reversed(pts)))


def _left(o: Spot, a: Spot, b: Spot) -> float:
    return (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0])
