"""The layout of a figure's numbers: which margins, which place, which leader. The same items give the same layout."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from kilter.picture.callouts.cost import Costs
from kilter.picture.callouts.geometry import UNIT, whole
from kilter.picture.callouts.model import Anchor, Box, Label, Layout, Style
from kilter.picture.callouts.search import places_for
from kilter.picture.callouts.slots import MOST, Sheet, box_at, sheet_for


def lay_out(items: Sequence[Anchor], width: float, height: float, style: Style) -> Layout:
    """Place the numbers round a picture whose size and items are given in one unit of any kind.

    Raises ValueError for more items than are drawn, or a picture without size."""
    if len(items) > MOST:
        raise ValueError(f"{len(items)} items, the most that are drawn is {MOST}")
    if width <= 0 or height <= 0:
        raise ValueError("a picture without width or height")
    placed = tuple(sorted((i.y / height, i.x / width, i.number) for i in items))
    return _laid_out(placed, height / width, style)


@lru_cache(maxsize=256)
def _laid_out(items: tuple[tuple[float, float, int], ...], ratio: float, style: Style) -> Layout:
    digits = max((len(str(number)) for _, _, number in items), default=1)
    if not items:
        high = style.width * ratio
        return Layout(style.width, high, Box(0, 0, style.width, high), (), 0, 1)
    sheet = sheet_for(len(items), digits, ratio, style)
    anchors = [_inside(Anchor(number, x, y), sheet) for y, x, number in items]
    held = places_for(costs_of(anchors, sheet, style))
    labels = (_label(a, sheet, place, style) for a, place in zip(anchors, held, strict=True))
    return Layout(
        sheet.width,
        sheet.height,
        sheet.picture,
        tuple(sorted(labels)),
        sheet.sides,
        digits,
    )


def costs_of(anchors: Sequence[Anchor], sheet: Sheet, style: Style) -> Costs:
    """The costs of all leaders; anchors in points of the sheet."""
    wide = (sheet.picture.right - sheet.picture.left) * UNIT
    places = [whole(s.x, s.y) for s in sheet.slots]
    return Costs([whole(a.x, a.y) for a in anchors], places, wide, round(style.near * UNIT))


def _inside(anchor: Anchor, sheet: Sheet) -> Anchor:
    """From parts of the picture to points of the sheet, to a hundredth; outside is brought to the edge."""
    box = sheet.picture
    x = box.left + min(max(anchor.x, 0.0), 1.0) * (box.right - box.left)
    y = box.top + min(max(anchor.y, 0.0), 1.0) * (box.bottom - box.top)
    at = whole(x, y)
    return Anchor(anchor.number, at[0] / UNIT, at[1] / UNIT)


def _label(anchor: Anchor, sheet: Sheet, place: int, style: Style) -> Label:
    slot = sheet.slots[place]
    end = whole(slot.x, slot.y)
    return Label(
        anchor.number,
        slot.side,
        box_at(slot, anchor.number, style),
        (end[0] / UNIT, end[1] / UNIT),
        (anchor.x, anchor.y),
    )
