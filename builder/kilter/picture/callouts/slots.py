"""The free places in the margins: how many sides are used, and where the numbers may stand.

Places lie at the least pitch and not evenly spread: even spreading makes leaders longer and lays more of them along
an edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from kilter.picture.callouts.model import DIGIT, TALL, Box, Side, Style

TWO_SIDES = 12
"""Items up to which left and right are enough; more stand all round."""
MOST = 60
"""Items that are drawn at all."""


class Slot(NamedTuple):
    """A place for a number: where its leader ends, and the side it is on."""

    side: Side
    x: float
    y: float


@dataclass(frozen=True)
class Sheet:
    """The picture between its margins, and the free places."""

    width: float
    height: float
    picture: Box
    slots: tuple[Slot, ...]
    sides: int
    digits: int


def sheet_for(count: int, digits: int, ratio: float, style: Style) -> Sheet:
    """The sheet for so many items of a picture that is `ratio` times as high as wide."""
    margin = style.margin(digits)
    wide = style.width - 2 * margin
    high = wide * ratio
    column = int(high / style.pitch)
    row = int(wide / style.row_pitch(digits))
    if count <= TWO_SIDES and count <= 2 * column:
        return _sheet(style, digits, margin, high, 0.0, column, 0)
    if count <= 2 * column + 2 * row:
        return _sheet(style, digits, margin, high, style.row_margin, column, row)
    return _sheet(style, digits, margin, high, 0.0, -(-count // 2) + 1, 0)


def _sheet(
    style: Style, digits: int, margin: float, high: float, above: float, column: int, row: int
) -> Sheet:
    """Columns longer than the picture make the sheet higher; the picture stays in its middle."""
    height = max(high + 2 * above, column * style.pitch)
    top = (height - high) / 2
    picture = Box(margin, top, style.width - margin, top + high)
    out = style.outside
    first = height / 2 - (column - 1) * style.pitch / 2
    ys = [first + k * style.pitch for k in range(column)]
    pitch = style.row_pitch(digits)
    xs = [style.width / 2 + (k - (row - 1) / 2) * pitch for k in range(row)]
    slots = [Slot("top", x, picture.top - out) for x in xs]
    slots += [Slot("right", picture.right + out, y) for y in ys]
    slots += [Slot("bottom", x, picture.bottom + out) for x in reversed(xs)]
    slots += [Slot("left", picture.left - out, y) for y in reversed(ys)]
    return Sheet(style.width, height, picture, tuple(slots), 4 if row else 2, digits)


def box_at(slot: Slot, number: int, style: Style) -> Box:
    """What a number covers at a place: it stands beyond the end of its leader, in line with its neighbours."""
    wide, high = len(str(number)) * DIGIT * style.text, TALL * style.text
    x, y, lead = slot.x, slot.y, style.lead
    match slot.side:
        case "left":
            return Box(x - lead - wide, y - high / 2, x - lead, y + high / 2)
        case "right":
            return Box(x + lead, y - high / 2, x + lead + wide, y + high / 2)
        case "top":
            return Box(x - wide / 2, y - lead - high, x + wide / 2, y - lead)
    return Box(x - wide / 2, y + lead, x + wide / 2, y + lead + high)
