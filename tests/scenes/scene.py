"""What a picture is made from: parts in space, a parallel camera, what is named, moved and measured.

Lengths are millimetres: x to the right of the machine, y away from its front, z up.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

Point = tuple[float, float, float]
Solid = Any
"""A solid of build123d; nothing in this file needs the package."""


@dataclass(frozen=True)
class Part:
    """A solid with its ink; parts of one name are one thing to the reader."""

    name: str
    solid: Solid
    tone: int = 255
    """Grey of its surface, 255 is paper."""
    hatch: float | None = None
    """Angle in degrees of the hatch where it is cut, None for screws and shafts."""

    def moved(self, by: Point) -> Part:
        """The part drawn apart from its place."""
        from build123d import Pos

        return replace(self, solid=Pos(*by) * self.solid)


@dataclass(frozen=True)
class Camera:
    """A parallel view: `yaw` 0 looks at the front, 90 at the right side; `pitch` looks down (degrees)."""

    yaw: float
    pitch: float


@dataclass(frozen=True)
class Motion:
    """An arrow at a point of the scene."""

    kind: str
    at: Point
    way: str
    amount: str = ""


@dataclass
class Scene:
    """One picture."""

    camera: Camera
    parts: list[Part] = field(default_factory=list)
    names: tuple[str, ...] = ()
    """Parts that carry a number."""
    at: dict[str, Point] = field(default_factory=dict)
    """Where a named part is pointed at, if not in the middle of what is seen of it."""
    axes: list[tuple[Point, Point]] = field(default_factory=list)
    """Lines along which parts were drawn apart."""
    motions: list[Motion] = field(default_factory=list)
    length: tuple[Point, Point] | None = None
    """The two ends of a length that the figure shows."""
    plane: tuple[str, float] | None = None
    """Axis and place of the cut; what lies on it is hatched."""
    frame: tuple[Point, float] | None = None
    """Middle and width in millimetres of what is shown, all if None."""
    width: int = 1200
    tall: float = 0.75
    """Height in parts of the width at most; less where the parts need less."""
    below: int = 0
    """Pixels left free under the drawing, for a detail in its corner."""

    def add(self, *parts: Part | Iterable[Part]) -> None:
        """Put parts into the scene."""
        for part in parts:
            self.parts.extend([part] if isinstance(part, Part) else part)
