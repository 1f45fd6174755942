"""A layout as SVG that lies over its picture: leaders, dots and numbers, in neutral ink with a white halo.

Places are in per cent of the sheet and sizes in pixels (in the style sheet), so that the numbers keep their size at
every width. An SVG without marks, whose viewBox is the sheet with its margins, holds the room open.
"""

from __future__ import annotations

from html import escape

from kilter.picture.callouts.model import Label, Layout, Side
from kilter.picture.marks import BAR_WORDS, Arrow, Bar, Marks

DOT, RING, TARGET = 2.5, 9, 24
"""Pixels: radius of a dot, of the ring round the item that is shown, width of what a finger has to hit."""
ANCHORS: dict[Side, str] = {"left": "end", "right": "start", "top": "middle", "bottom": "middle"}


def sheet_svg(layout: Layout, marks: Marks = Marks()) -> str:  # noqa: B008 - a value that never changes
    """The room for the sheet and everything drawn on it; arrows lie over the leaders."""
    room = tag("svg", viewBox=f"0 0 {layout.width:g} {layout.height:.2f}", class_="room", aria_hidden="true")
    halos = "".join(_leader(layout, label) for label in layout.labels)
    body = tag("g", halos, class_="halo") if halos else ""
    body += "".join(_item(layout, label) for label in layout.labels) + _marks(layout, marks)
    return room + tag("svg", body, class_="marks", aria_hidden="true")


def _marks(layout: Layout, marks: Marks) -> str:
    bar = _bar(layout, marks.bar) if marks.bar else ""
    return bar + "".join(_arrow(layout, arrow) for arrow in marks.arrows)


def _arrow(layout: Layout, arrow: Arrow) -> str:
    x, y = per_cent(layout, *arrow.at)
    words = arrow.words
    told = tag("text", escape(words.text), x=words.x, y=words.y, text_anchor=words.anchor)
    return tag("svg", arrow.drawing + told, x=x, y=y, class_="motion")


def _bar(layout: Layout, bar: Bar) -> str:
    """A line with a stroke across each end and the length beside its middle."""
    ends = [per_cent(layout, *p) for p in (bar.start, bar.end)]
    line = {"x1": ends[0][0], "y1": ends[0][1], "x2": ends[1][0], "y2": ends[1][1]}
    x, y = bar.across
    tick = tag("line", x1=-6 * x, y1=-6 * y, x2=6 * x, y2=6 * y)
    drawn = tag("line", **line) + "".join(tag("svg", tick, x=at[0], y=at[1]) for at in ends)
    middle = per_cent(layout, (bar.start[0] + bar.end[0]) / 2, (bar.start[1] + bar.end[1]) / 2)
    words = tag("text", escape(bar.words), x=BAR_WORDS * x, y=BAR_WORDS * y, text_anchor="middle")
    told = tag("svg", words, x=middle[0], y=middle[1])
    return tag("g", tag("g", drawn, class_="halo") + drawn + told, class_="scale")


def _item(layout: Layout, label: Label) -> str:
    x, y = per_cent(layout, *label.at)
    ring = tag("circle", cx=x, cy=y, r=RING, class_="ring")
    dot = tag("circle", cx=x, cy=y, r=DOT, class_="dot")
    parts = ring + _leader(layout, label) + dot + _target(layout, label) + _number(layout, label)
    return tag("g", parts, class_="item", data_item=label.number)


def _leader(layout: Layout, label: Label) -> str:
    (x1, y1), (x2, y2) = per_cent(layout, *label.at), per_cent(layout, *label.end)
    return tag("line", x1=x1, y1=y1, x2=x2, y2=y2)


def _target(layout: Layout, label: Label) -> str:
    """An unseen square for a finger; a square in an SVG of its own, since only its middle is in per cent."""
    x, y = per_cent(layout, *label.middle)
    square = tag("rect", x=-TARGET / 2, y=-TARGET / 2, width=TARGET, height=TARGET, class_="target")
    return tag("svg", square, x=x, y=y)


def _number(layout: Layout, label: Label) -> str:
    """Lined up at the side that faces the picture."""
    x, y = per_cent(layout, *label.edge)
    return tag("text", str(label.number), x=x, y=y, text_anchor=ANCHORS[label.side])


def per_cent(layout: Layout, x: float, y: float) -> tuple[str, str]:
    """A place of the sheet."""
    return f"{x / layout.width * 100:.2f}%", f"{y / layout.height * 100:.2f}%"


def tag(name: str, body: str = "", **attributes: str | float) -> str:
    """An element; values are escaped, `text_anchor` is written `text-anchor`."""
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(f"{v:g}" if not isinstance(v, str) else v)}"'
        for key, v in attributes.items()
    )
    return f"<{name}{written}>{body}</{name}>"
