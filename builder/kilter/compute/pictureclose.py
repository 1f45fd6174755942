"""How far apart the items of a figure stand where it is looked at: on a telephone of 360 pixels, and on a card.

The sheet is the picture with its margins for the numbers; the browser and the cards' tests hold these sizes.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, dist

from kilter.compute.pictureplan import Box, Inset, Plan, Size, plan_of
from kilter.model.text import Figure

SHARES = (0.08, 0.11, 0.15)
"""Left margin of a narrow sheet in parts of its width, for numbers of one, two and three digits."""
PHONE_SHEET = 324.0
"""CSS pixels that a sheet is wide on a telephone of 360."""
PHONE_LEAST = 12.0
"""CSS pixels between two items there: nearer, a part and its neighbour can't be told apart."""
CARD_SHEET = (117.0, 38.0)
"""Millimetres that a sheet on an A5 card is wide at most, and high where its step leaves least room."""
CARD_LEAST = 1.6
"""Millimetres between two items there: the white rings round their dots touch."""
SPARE = 1.3
"""A detail that is offered takes the items so much further apart than the least."""
TIMES = (1.5, 8.0)
MOST_INSET = 0.5
CORNERS = ("upper left", "upper right", "lower left", "lower right")


@dataclass(frozen=True)
class Close:
    """An item and its nearest neighbour among those listed before it."""

    first: int
    """Places in the figure's list, not numbers."""
    second: int
    phone: float
    """CSS pixels between them."""
    card: float
    """Millimetres."""

    @property
    def share(self) -> float:
        """Of the distance that they should have, by the stricter of the two."""
        return min(self.phone / PHONE_LEAST, self.card / CARD_LEAST)


def close_items(figure: Figure, size: Size) -> list[Close]:
    """Items too near one listed before them."""
    plan = plan_of(figure)
    places = [plan.place(i.x, i.y, size) for i in figure.items]
    phone, card = picture_widths(figure, plan.seen(size))
    wide = plan.seen(size).width
    found = []
    for n, place in enumerate(places):
        apart, other = min(((dist(place, places[k]) / wide, k) for k in range(n)), default=(1.0, 0))
        pair = Close(other, n, apart * phone, apart * card)
        if n and pair.share < 1:
            found.append(pair)
    return found


def picture_widths(figure: Figure, seen: Box) -> tuple[float, float]:
    """CSS pixels on a telephone and millimetres on a card, where it may have to be small."""
    digits = max((len(str(i.number)) for i in figure.items), default=1)
    part = 1 - 2 * SHARES[min(digits, len(SHARES)) - 1]
    most, high = CARD_SHEET
    return PHONE_SHEET * part, min(most * part, high * seen.width / seen.height)


def detail_for(figure: Figure, size: Size, pair: Close) -> str:
    """The option that enlarges the surroundings of a pair so that it can be told apart; empty where none fits."""
    plan = plan_of(figure)
    seen, items = plan.seen(size), figure.items
    (ax, ay), (bx, by) = ((items[k].x, items[k].y) for k in (pair.first, pair.second))
    if any(i.box.holds(ax, ay) or i.box.holds(bx, by) for i in plan.insets):
        return ""
    times = max(TIMES[0], ceil(2 * SPARE / max(pair.share, 0.01)) / 2)
    side = max(2 * dist((ax, ay), (bx, by)), seen.width * 0.3 / times)
    box = _inside(Box((ax + bx) / 2 - side / 2, (ay + by) / 2 - side / 2, side, side), seen)
    if times > TIMES[1] or side * times > MOST_INSET * min(seen.width, seen.height):
        return ""
    for corner in CORNERS:
        if _free(figure, plan, Inset(box, corner, times), size):
            return f":detail: {box.x:g},{box.y:g},{box.width:g},{box.height:g} {corner}, {times:g} times"
    return ""


def _inside(box: Box, seen: Box) -> Box:
    """In whole pixels, and shifted into what is seen."""
    side = float(ceil(min(box.width, seen.width, seen.height)))
    x = min(max(box.x, seen.x), seen.right - side)
    y = min(max(box.y, seen.y), seen.bottom - side)
    return Box(float(int(x)), float(int(y)), side, side)


def _free(figure: Figure, plan: Plan, inset: Inset, size: Size) -> bool:
    """Whether it lies over nothing that is pointed at, nor over another enlarged part."""
    to = plan.inset_box(inset, size)
    taken = [plan.inset_box(i, size) for i in plan.insets] + [plan.marked_box(i, size) for i in plan.insets]
    places = [plan.place(i.x, i.y, size) for i in figure.items if not inset.box.holds(i.x, i.y)]
    return (
        not to.meets(plan.marked_box(inset, size))
        and not any(to.meets(other) for other in taken)
        and not any(to.holds(*place) for place in places)
    )
