"""Figures of a card: the picture re-encoded for print, and where its numbers stand."""

from __future__ import annotations

import base64
import math
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple, TypedDict

from kilter.compute.pictureinfo import picture_info
from kilter.compute.pictureplan import plan_of
from kilter.model.text import Figure, Item
from kilter.picture.encode import Kind, Published, variants
from kilter.publish.cards.inline import Inline, Scope, printable
from kilter.publish.view import figure_key, picture_path

PRINT_WIDTH = 1200
"""Pixels: about 250 dots an inch at the width of an A5 card."""
REACH = 0.062
"""From an item's anchor to the middle of its number, in widths of the picture."""


class ItemData(TypedDict):
    """A numbered item: its anchor and its number's place in parts of the picture's width and height."""

    number: str
    label: str
    x: float
    y: float
    nx: float
    ny: float


class FigureData(TypedDict):
    """A figure as it is printed."""

    svg: str
    """The picture wrapped in SVG, since JSON can't hold bytes."""
    ratio: float
    """Height by width."""
    alt: str
    number: str
    caption: list[Inline]
    items: list[ItemData]


class Point(NamedTuple):
    """In widths of the picture."""

    x: float
    y: float


def figure_data(figure: Figure, caption: list[Inline], scope: Scope) -> FigureData:
    """A figure with its picture at print width; the picture can be read, else the document has errors."""
    picture = _picture(Path(picture_path(scope.owner, figure)), figure)
    number = scope.view.figure_numbers.get(figure_key(scope.owner, figure))
    return {
        "svg": _wrapped(picture),
        "ratio": picture.height / picture.width,
        "alt": figure.alt or figure.path,
        "number": str(number or ""),
        "caption": caption,
        "items": _items(figure.items, picture),
    }


def _picture(file: Path, figure: Figure) -> Published:
    """A drawing is smaller as PNG, a photograph as JPEG: the smaller one is the better one."""
    kinds: tuple[Kind, ...] = ("jpeg",) if picture_info(file).photograph else ("png", "jpeg")
    made = variants(file, [(PRINT_WIDTH, kind) for kind in kinds], plan_of(figure))
    return min(made, key=lambda p: len(p.data))


@lru_cache(maxsize=64)
def _wrapped(picture: Published) -> str:
    if picture.name.endswith("svg"):
        return picture.data.decode()
    kind = "png" if picture.name.endswith("png") else "jpeg"
    size = f'width="{picture.width}" height="{picture.height}"'
    data = base64.b64encode(picture.data).decode("ascii")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {size}>'
        f'<image {size} xlink:href="data:image/{kind};base64,{data}"/></svg>'
    )


def _items(items: tuple[Item, ...], picture: Published) -> list[ItemData]:
    places_of = (picture.at(i.x, i.y) for i in items)
    anchors = [Point(x / picture.width, y / picture.width) for x, y in places_of]
    height = picture.height / picture.width
    places: list[Point] = []
    for anchor in anchors:
        places.append(_place(anchor, anchors, places, height))
    return [
        {
            "number": str(item.number),
            "label": printable(item.label),
            "x": at.x,
            "y": at.y / height,
            "nx": place.x,
            "ny": place.y / height,
        }
        for item, at, place in zip(items, anchors, places, strict=True)
    ]


def _place(anchor: Point, anchors: list[Point], taken: list[Point], height: float) -> Point:
    """Beside the anchor, at an angle, as far as can be from other anchors and numbers, inside the picture."""
    angles = [math.radians(a) for a in (-40, 40, -140, 140, -65, 65, -115, 115, -15, 15, -165, 165)]
    ring = [Point(anchor.x + REACH * math.cos(a), anchor.y + REACH * math.sin(a)) for a in angles]
    edge = 0.025
    inside = [p for p in ring if edge < p.x < 1 - edge and edge < p.y < height - edge] or ring
    others = [p for p in (*anchors, *taken) if p != anchor]
    return max(inside, key=lambda p: min((round(math.dist(p, o), 4) for o in others), default=1.0))
