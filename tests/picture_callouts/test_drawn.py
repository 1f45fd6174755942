"""What is drawn from a layout: the overlay of the site, the data of the card, and that both have the same places."""

from __future__ import annotations

import random
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from PIL import Image
from tests.picture_callouts.figures import made_up

from kilter.model.text import Figure, Item
from kilter.picture.callouts.layout import lay_out
from kilter.picture.callouts.model import STYLES, WIDE
from kilter.picture.encode import published
from kilter.picture.overlay import ANCHORS, per_cent, sheet_svg, tag
from kilter.publish.cards.pictures import _sheets
from kilter.source import Source

STYLE_SHEET = Path(__file__).parents[2] / "builder/kilter/publish/site/assets/document.css"


def _layout(count: int, style=WIDE):
    made = made_up("uniform", count, random.Random(count))
    return lay_out(made.items, made.width, made.height, style)


@pytest.mark.parametrize("count", [0, 1, 12, 20, 60])
def test_the_overlay_is_sound_and_draws_every_leader_twice_with_the_halos_below(count):
    layout = _layout(count)
    root = ET.fromstring(f"<div>{sheet_svg(layout)}</div>")
    room, marks = root.findall("svg")
    assert room.get("viewBox") == f"0 0 {layout.width:g} {layout.height:.2f}"
    assert len(marks.findall("g[@class='halo']/line")) == count
    assert [g.get("data-item") for g in marks.findall("g[@class='item']")] == [
        str(x.number) for x in layout.labels
    ]
    assert [t.text for t in marks.iter("text")] == [str(x.number) for x in layout.labels]
    if count:
        assert marks[0].get("class") == "halo"


def test_places_of_the_overlay_are_those_of_the_layout():
    layout = _layout(20)
    marks = ET.fromstring(f"<div>{sheet_svg(layout)}</div>").findall("svg")[1]
    for label, group in zip(layout.labels, marks.findall("g[@class='item']"), strict=True):
        line, text = group.find("line"), group.find("text")
        assert (line.get("x1"), line.get("y1")) == per_cent(layout, *label.at)
        assert (line.get("x2"), line.get("y2")) == per_cent(layout, *label.end)
        assert (text.get("x"), text.get("y")) == per_cent(layout, *label.edge)
        assert text.get("text-anchor") == ANCHORS[label.side]


def test_words_in_an_attribute_are_escaped():
    assert tag("g", aria_label='<"&>') == '<g aria-label="&lt;&quot;&amp;&gt;"></g>'


def test_the_style_sheet_has_the_widths_and_the_breadth_of_the_layouts():
    css = STYLE_SHEET.read_text(encoding="utf-8")
    narrow, wide = css.split("@container (min-width: 560px)")
    for style, part in zip(STYLES.values(), (narrow, wide), strict=True):
        for digits in (1, 2, 3):
            assert f".digits-{digits} img {{ width: {(1 - 2 * style.shares[digits - 1]) * 100:g}%; }}" in part
    assert WIDE.width == 560
    assert f"font: 700 {WIDE.text:g}px" in css


def test_the_card_has_the_places_of_the_site(tmp_path):
    """An item of a 800 x 600 picture, cropped by nothing."""
    Image.new("RGB", (800, 600), "white").save(tmp_path / "p.png")
    span = Source("a.md", "x\n").whole_row(0)
    items = tuple(
        Item(number=n, x=x, y=y, label="x", span=span)
        for n, x, y in ((7, 100, 90), (2, 700, 500), (11, 400, 300))
    )
    shown = published(tmp_path / "p.png", 1200, "png")
    figure = Figure(path="p.png", id=None, alt="x", items=items, caption=(), span=span, path_span=span)
    sheets = _sheets(figure, shown)
    assert [round(s["least"]) for s in sheets] == [110, 59]
    for sheet, style in zip(sheets, (STYLES["wide"], STYLES["narrow"]), strict=True):
        layout = lay_out(_anchors(items), 800, 600, style)
        assert [m["number"] for m in sheet["marks"]] == ["2", "7", "11"]
        for mark, label in zip(sheet["marks"], layout.labels, strict=True):
            assert mark["at"] == pytest.approx((label.at[0] / layout.width, label.at[1] / layout.height))
            assert mark["end"] == pytest.approx((label.end[0] / layout.width, label.end[1] / layout.height))
            assert mark["side"] == label.side


def _anchors(items):
    from kilter.picture.callouts.model import Anchor

    return [Anchor(i.number, i.x, i.y) for i in items]
