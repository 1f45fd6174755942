"""Orders of bolts: each once, crosswise, the load's middle never far from the pattern's."""

from itertools import pairwise
from math import hypot

import pytest

from kilter.compute.bolt_order import circle, circle_order, grid, line, order, outward_order


@pytest.mark.parametrize("count", range(1, 97))
def test_every_bolt_once_and_the_second_opposite_the_first(count):
    found = circle_order(count)
    assert sorted(found) == list(range(1, count + 1))
    if count % 2 == 0:
        assert all(abs(a - b) == count // 2 for a, b in zip(found[::2], found[1::2], strict=True))


def off_middle(bolts, numbers):
    """How far the middle of the tightened bolts lies from the pattern's, per bolt of the whole."""
    at = {b.number: b for b in bolts}
    return hypot(sum(at[n].x for n in numbers), sum(at[n].y for n in numbers)) / len(bolts)


@pytest.mark.parametrize("count", [c for c in range(4, 41) if c != 5])
def test_load_goes_on_more_evenly_than_going_round(count):
    bolts = circle(count)
    ours, around = order(bolts, "circle"), range(1, count + 1)

    def worst(numbers):
        return max(off_middle(bolts, list(numbers)[:n]) for n in range(1, count + 1))

    assert worst(ours) < worst(around)


@pytest.mark.parametrize("count", range(4, 97, 4))
def test_after_each_four_the_load_is_in_the_middle(count):
    bolts, found = circle(count), circle_order(count)
    assert all(off_middle(bolts, found[:n]) < 1e-9 for n in range(4, count + 1, 4))


@pytest.mark.parametrize(
    "bolts",
    [grid(2, 2), grid(2, 4), grid(3, 4), grid(4, 5, frame=True), grid(3, 3, frame=True), line(1), line(7)],
)
def test_rectangles_and_lines_go_from_the_middle_outwards(bolts):
    found = outward_order(bolts)
    at = {b.number: b for b in bolts}
    assert sorted(found) == [b.number for b in bolts]
    out = [hypot(at[n].x, at[n].y) for n in found]
    assert all(a <= b + 1e-6 for a, b in pairwise(out))


def test_small_patterns_by_hand():
    """Common practice, no source: four corners crosswise, a line from its middle, five as a star."""
    assert outward_order(grid(2, 2)) == (1, 4, 2, 3)
    assert outward_order(line(5)) == (3, 2, 4, 1, 5)
    assert circle_order(5) == (1, 3, 5, 2, 4)
    assert circle_order(6) == (1, 4, 2, 5, 3, 6)


def test_places_for_a_drawing():
    top, right = circle(4)[:2]
    assert (round(top.x, 9), round(top.y, 9)) == (0, 1)
    assert (round(right.x, 9), round(right.y, 9)) == (1, 0)
    assert [b.number for b in grid(3, 3, frame=True)] == list(range(1, 9))
    assert [(b.x, b.y) for b in line(3)] == [(-1, 0), (0, 0), (1, 0)]
