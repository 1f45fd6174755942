"""Layouts of made-up figures, judged anew from the drawing alone.

`python -m tests.bench.callouts --figures 10000` is the same on ten thousand figures, with times and shares.
"""

from __future__ import annotations

import os
import random
from dataclasses import replace
from itertools import pairwise

import pytest
from tests.picture_callouts.figures import (
    KINDS,
    Faults,
    along_edges,
    apart,
    faults,
    made_up,
    many,
    near_others,
    to_box,
)

from kilter.picture.callouts.layout import lay_out
from kilter.picture.callouts.model import NARROW, STYLES, WIDE, Anchor, Box, Label, Layout
from kilter.picture.callouts.order import clockwise
from kilter.picture.callouts.slots import MOST

NONE = Faults(0, 0, 0, 0)
FIGURES = int(os.environ.get("KILTER_FIGURES", "72"))
"""How many figures the first test looks at; `python -m tests.bench.callouts` looks at ten thousand."""


@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
def test_no_crossing_no_overlap_nothing_outside(style):
    for made in many(FIGURES, seed=20):
        assert faults(lay_out(made.items, made.width, made.height, style)) == NONE, made


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
def test_as_many_items_as_are_drawn_at_all(kind, style):
    made = made_up(kind, MOST, random.Random(f"{kind} 1"))
    layout = lay_out(made.items, made.width, made.height, style)
    assert faults(layout) == NONE and len(layout.labels) == MOST


def test_every_item_has_its_own_number_at_its_own_place():
    for made in many(60, seed=21):
        layout = lay_out(made.items, made.width, made.height, WIDE)
        box, by_number = layout.picture, {i.number: i for i in made.items}
        assert [label.number for label in layout.labels] == sorted(by_number)
        for label in layout.labels:
            item = by_number[label.number]
            x = box.left + item.x / made.width * (box.right - box.left)
            y = box.top + item.y / made.height * (box.bottom - box.top)
            assert label.at == pytest.approx((x, y), abs=0.006)


def test_numbers_stand_in_rows_and_columns_at_the_least_pitch():
    for made in many(60, seed=22):
        layout = lay_out(made.items, made.width, made.height, NARROW)
        for side, across, along in (("left", 0, 1), ("right", 0, 1), ("top", 1, 0), ("bottom", 1, 0)):
            ends = [x.end for x in layout.labels if x.side == side]
            assert len({e[across] for e in ends}) <= 1
            least = NARROW.pitch if along else NARROW.row_pitch(layout.digits)
            places = sorted(e[along] for e in ends)
            assert all(b - a >= least - 0.02 for a, b in pairwise(places))


def test_the_order_of_the_items_changes_nothing():
    chance = random.Random(23)
    for made in many(45, seed=23):
        mixed = chance.sample(made.items, len(made.items))
        assert lay_out(mixed, made.width, made.height, WIDE) == lay_out(
            made.items, made.width, made.height, WIDE
        )


def test_the_unit_of_the_picture_changes_nothing():
    for made in many(18, seed=24):
        twice = [Anchor(n, 2 * x, 2 * y) for n, x, y in made.items]
        assert lay_out(twice, 2 * made.width, 2 * made.height, WIDE) == lay_out(
            made.items, made.width, made.height, WIDE
        )


@pytest.mark.parametrize(("count", "sides"), [(1, 2), (12, 2), (13, 4), (24, 4)])
@pytest.mark.parametrize("style", STYLES.values(), ids=STYLES)
def test_two_sides_for_twelve_items_and_four_for_more(count, sides, style):
    made = made_up("uniform", count, random.Random(5))
    items = [i._replace(number=k) for k, i in enumerate(made.items, start=1)]
    layout = lay_out(items, 1000, 750, style)
    used = {x.side for x in layout.labels}
    assert layout.sides == sides
    assert used <= ({"left", "right"} if sides == 2 else {"top", "right", "bottom", "left"})


def test_a_sheet_grows_when_its_columns_are_longer_than_the_picture():
    made = made_up("uniform", 40, random.Random(6))
    layout = lay_out(made.items, 1000, 200, NARROW)
    assert layout.height > layout.picture.bottom - layout.picture.top + 100
    assert layout.picture.top == pytest.approx(layout.height - layout.picture.bottom)
    assert faults(layout) == NONE


def test_fewer_leaders_over_items_and_along_edges_than_with_the_shortest():
    from tests.bench.callouts import shortest

    before, after = [0, 0], [0, 0]
    for made in many(120, seed=25, most=24):
        layout = lay_out(made.items, made.width, made.height, WIDE)
        plain = shortest(made, layout, WIDE)
        for sums, labels in ((before, plain), (after, layout.labels)):
            sums[0] += near_others(labels, WIDE.near)
            sums[1] += along_edges(labels)
    assert after[0] < 0.75 * before[0], (before, after)
    assert after[1] < 0.25 * before[1], (before, after)


def test_numbers_clockwise_read_round_the_margins():
    for made in many(40, seed=26):
        new = clockwise(made.items, made.width, made.height)
        assert sorted(new.values()) == list(range(1, len(new) + 1))
        again = [i._replace(number=new[i.number]) for i in made.items]
        places = {(i.x, i.y) for i in made.items}
        if len(places) < len(made.items):
            continue  # two items at one spot: which is which hangs on their numbers
        layout = lay_out(again, made.width, made.height, replace(WIDE))
        rounds = [x for side in ("top", "right", "bottom", "left") for x in _along(layout, side)]
        if layout.digits == len(str(max(i.number for i in made.items))):
            assert [x.number for x in rounds] == list(range(1, len(new) + 1))


def _along(layout: Layout, side: str) -> list[Label]:
    key = {"top": (0, 1), "right": (1, 1), "bottom": (0, -1), "left": (1, -1)}[side]
    return sorted((x for x in layout.labels if x.side == side), key=lambda x: key[1] * x.end[key[0]])


def test_a_figure_without_items_has_no_numbers():
    assert lay_out([], 100, 50, WIDE).labels == ()


@pytest.mark.parametrize(("width", "height"), [(0, 10), (10, 0), (-1, 5)])
def test_a_picture_without_size_is_refused(width, height):
    with pytest.raises(ValueError, match="without width or height"):
        lay_out([Anchor(1, 0, 0)], width, height, WIDE)


def test_more_items_than_are_drawn_are_refused():
    with pytest.raises(ValueError, match="61 items, the most that are drawn is 60"):
        lay_out([Anchor(k, k, k) for k in range(1, 62)], 100, 100, WIDE)


def test_the_judge_sees_each_fault():
    one = Label(1, "left", Box(0, 0, 10, 10), (12, 5), (50, 40))
    crossing = Label(2, "left", Box(0, 30, 10, 40), (12, 35), (50, 5))
    assert apart(one, crossing) == 0
    assert apart(one, one._replace(at=(31, 22.5), end=(12, 40))) < 1e-9  # an item on the other's leader
    assert to_box(crossing, Box(20, 20, 30, 30)) == 0
    sheet = Layout(100, 60, Box(20, 0, 90, 60), (one, crossing), 2, 1)
    assert faults(sheet) == Faults(1, 0, 0, 0)
    beside = replace(
        sheet, labels=(one, one._replace(number=3, box=Box(5, 5, 15, 15), at=(50, 44), end=(12, 8)))
    )
    assert faults(beside).labels_on_labels == 1 and faults(beside).leaders_on_labels == 1
    out = replace(
        sheet, labels=(one._replace(box=Box(-1, 0, 10, 10)), crossing._replace(box=Box(15, 0, 25, 9)))
    )
    assert faults(out).outside == 2
