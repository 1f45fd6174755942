"""Figures of a card: the picture re-encoded for print, and where its numbers stand."""

from __future__ import annotations

import base64
from functools import lru_cache
from pathlib import Path
from typing import TypedDict

from kilter.compute.pictureinfo import picture_info
from kilter.compute.pictureplan import plan_of
from kilter.model.text import Figure
from kilter.picture.callouts.layout import lay_out
from kilter.picture.callouts.model import STYLES, Anchor, Label, Layout
from kilter.picture.encode import Kind, Published, variants
from kilter.picture.marks import REACH, Arrow, Bar, marks_of
from kilter.publish.cards.inline import Inline, Scope, printable
from kilter.publish.view import figure_key, picture_path

PRINT_WIDTH = 1200
"""Pixels: about 250 dots an inch at the width of an A5 card."""
POINT = 3.35 / 17
"""Millimetres of a layout's point: its numbers of 17 points are 9.5 points of print high."""


class MarkData(TypedDict):
    """A number in the margin, in parts of the sheet's width and height."""

    number: str
    side: str
    at: tuple[float, float]
    """The item, where its leader begins."""
    end: tuple[float, float]
    edge: tuple[float, float]
    """Where the number is held."""


class ArrowData(TypedDict):
    """A movement: its drawing, which is `side` millimetres square round its place, and its words."""

    at: tuple[float, float]
    svg: str
    side: float
    words: str
    shift: tuple[float, float]
    """Of the words from the place, in millimetres."""
    anchor: str


class BarData(TypedDict):
    """A known length."""

    start: tuple[float, float]
    end: tuple[float, float]
    across: tuple[float, float]
    words: str


class SheetData(TypedDict):
    """A picture between its margins, with the places that the site has too."""

    least: float
    """Millimetres of width below which the numbers shrink with the sheet."""
    ratio: float
    """Height by width."""
    picture: tuple[float, float, float, float]
    """Left, top, width, height in parts of the sheet."""
    marks: list[MarkData]
    arrows: list[ArrowData]
    bar: BarData | None


class ItemData(TypedDict):
    """A numbered item as it is listed."""

    number: str
    label: str


class FigureData(TypedDict):
    """A figure as it is printed."""

    svg: str
    """The picture wrapped in SVG, since JSON can't hold bytes."""
    sheets: list[SheetData]
    """The widest first; the last one is taken where none fits."""
    alt: str
    number: str
    caption: list[Inline]
    items: list[ItemData]


def figures_data(figure: Figure, caption: list[Inline], scope: Scope) -> list[FigureData]:
    """A figure, or the two pictures of a pair: one above the other, each with its own items."""
    if figure.after is None:
        return [figure_data(figure, caption, scope)]
    return [
        figure_data(figure, caption, scope, ", before"),
        figure_data(figure.after, [], scope, ", after", figure_key(scope.owner, figure)),
    ]


def figure_data(
    figure: Figure, caption: list[Inline], scope: Scope, part: str = "", key: str = ""
) -> FigureData:
    """A figure with its picture at print width; the picture can be read, else the document has errors.

    `part` follows the number; `key` names the figure where the picture is the second of its pair.
    """
    picture = _picture(Path(picture_path(scope.owner, figure)), figure)
    number = scope.view.figure_numbers.get(key or figure_key(scope.owner, figure))
    return {
        "svg": _wrapped(picture),
        "sheets": _sheets(figure, picture),
        "alt": _told(figure),
        "number": f"{number or ''}{part}",
        "caption": caption,
        "items": [{"number": str(i.number), "label": printable(i.label)} for i in figure.items],
    }


def _told(figure: Figure) -> str:
    """What the picture shows, and what is drawn over it, for those who hear it."""
    drawn = [m.words for m in figure.motions] + ([f"length {figure.scale.length}"] if figure.scale else [])
    shown = figure.alt or figure.path
    return f"{shown} Drawn in: {'; '.join(drawn)}." if drawn else shown


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


def _sheets(figure: Figure, picture: Published) -> list[SheetData]:
    anchors = [Anchor(i.number, *picture.at(i.x, i.y)) for i in figure.items]
    widest_first = sorted(STYLES.values(), key=lambda s: -s.width)
    layouts = (lay_out(anchors, picture.width, picture.height, s) for s in widest_first)
    return [_sheet(x, figure, picture) for x in layouts]


def _sheet(layout: Layout, figure: Figure, picture: Published) -> SheetData:
    def place(x: float, y: float) -> tuple[float, float]:
        shown = picture.at(x, y)
        return shown[0] / picture.width, shown[1] / picture.height

    box, drawn = layout.picture, marks_of(figure, place, layout)
    x, y = _part(layout, (box.left, box.top))
    width, height = _part(layout, (box.right - box.left, box.bottom - box.top))
    return {
        "least": layout.width * POINT,
        "ratio": layout.height / layout.width,
        "picture": (x, y, width, height),
        "marks": [_mark(layout, label) for label in layout.labels],
        "arrows": [_arrow(layout, a) for a in drawn.arrows],
        "bar": _bar(layout, drawn.bar) if drawn.bar else None,
    }


def _arrow(layout: Layout, arrow: Arrow) -> ArrowData:
    box = f"{-REACH} {-REACH} {2 * REACH} {2 * REACH}"
    return {
        "at": _part(layout, arrow.at),
        "svg": f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}">{arrow.drawing}</svg>',
        "side": 2 * REACH * POINT,
        "words": printable(arrow.words.text),
        "shift": (arrow.words.x * POINT, arrow.words.y * POINT),
        "anchor": arrow.words.anchor,
    }


def _bar(layout: Layout, bar: Bar) -> BarData:
    return {
        "start": _part(layout, bar.start),
        "end": _part(layout, bar.end),
        "across": bar.across,
        "words": printable(bar.words),
    }


def _mark(layout: Layout, label: Label) -> MarkData:
    return {
        "number": str(label.number),
        "side": label.side,
        "at": _part(layout, label.at),
        "end": _part(layout, label.end),
        "edge": _part(layout, label.edge),
    }


def _part(layout: Layout, place: tuple[float, float]) -> tuple[float, float]:
    return place[0] / layout.width, place[1] / layout.height
