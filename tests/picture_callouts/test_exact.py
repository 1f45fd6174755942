"""Small figures against every way there is: no crossing where none is needed, and the least cost."""

from __future__ import annotations

import random
from itertools import permutations
from math import inf

import pytest
from scipy.optimize import linear_sum_assignment
from tests.picture_callouts.figures import KINDS, made_up
from tests.picture_callouts.oracle import best

from kilter.picture.callouts.assign import cheapest
from kilter.picture.callouts.cost import Costs
from kilter.picture.callouts.geometry import meet
from kilter.picture.callouts.layout import _inside, costs_of
from kilter.picture.callouts.model import STYLES, Anchor
from kilter.picture.callouts.search import places_for
from kilter.picture.callouts.slots import sheet_for


def _costs(kind: str, count: int, chance: random.Random) -> Costs:
    made = made_up(kind, count, chance)
    style = chance.choice(list(STYLES.values()))
    sheet = sheet_for(count, 2, made.height / made.width, style)
    parts = (Anchor(i.number, i.x / made.width, i.y / made.height) for i in made.items)
    return costs_of([_inside(a, sheet) for a in sorted(parts, key=lambda a: (a.y, a.x))], sheet, style)


@pytest.mark.parametrize("kind", KINDS)
def test_up_to_seven_items_have_the_least_cost_there_is(kind):
    chance = random.Random(f"{kind} 7")
    for _ in range(40):
        costs = _costs(kind, chance.randint(1, 7), chance)
        held, (least, _) = places_for(costs), best(costs)
        assert least < inf and not costs.clashes(held)
        assert costs.total(held) == pytest.approx(least)


def _few_places(chance: random.Random, count: int, places: int) -> Costs:
    """Places anywhere round the picture, not in rows; so few that leaders may have to be long."""
    items = [(chance.randrange(2000, 26000), chance.randrange(2000, 18000)) for _ in range(count)]
    edge = [(chance.choice((0, 28000)), chance.randrange(0, 20000)) for _ in range(places)]
    return Costs(items, edge, 24000, 550)


def test_plain_trial_of_all_ways_agrees():
    """Nothing clever on this side: all permutations, every pair of leaders looked at."""
    chance = random.Random(8)
    for _ in range(60):
        count = chance.randint(1, 6)
        costs = _few_places(chance, count, min(7, count + chance.randint(0, 2)))
        ways = permutations(range(len(costs.places)), count)
        clear = [costs.total(w) for w in ways if not costs.clashes(w)]
        held = places_for(costs)
        assert clear, "the shortest leaders never cross"
        assert not costs.clashes(held) and costs.total(held) == pytest.approx(min(clear))


def test_the_shortest_leaders_together_do_not_cross():
    chance = random.Random(9)
    for _ in range(100):
        costs = _few_places(chance, 12, 14)
        assert not costs.clashes(cheapest(costs.lengths))


def test_leaders_at_random_do_cross():
    """So that the test of crossings can fail."""
    chance, crossed = random.Random(10), 0
    for _ in range(100):
        costs = _few_places(chance, 8, 10)
        crossed += bool(costs.clashes(chance.sample(range(10), 8)))
    assert crossed > 90


def test_the_cheapest_way_is_that_of_another_program():
    chance = random.Random(11)
    for _ in range(60):
        rows = chance.randint(1, 20)
        table = [[chance.choice((chance.random(), 1, 5)) for _ in range(rows + chance.randint(0, 6))]]
        table += [[chance.random() * 9 for _ in table[0]] for _ in range(rows - 1)]
        held = cheapest(table)
        row, column = linear_sum_assignment(table)
        assert len(set(held)) == rows
        assert sum(r[p] for r, p in zip(table, held, strict=True)) == pytest.approx(
            sum(table[i][j] for i, j in zip(row, column, strict=True))
        )


def test_more_rows_than_columns_are_refused():
    with pytest.raises(ValueError, match="3 rows can't have a column each of 2"):
        cheapest([[1, 2]] * 3)
    assert cheapest([]) == []


@pytest.mark.parametrize(
    ("one", "two", "met"),
    [
        (((0, 0), (10, 10)), ((0, 10), (10, 0)), True),  # they cross
        (((0, 0), (10, 10)), ((5, 5), (9, 0)), True),  # one begins on the other
        (((0, 0), (10, 10)), ((20, 0), (10, 10)), True),  # two end at one place
        (((0, 0), (10, 10)), ((0, 0), (10, 0)), False),  # two of one spot
        (((0, 0), (10, 10)), ((0, 0), (5, 5)), True),  # two of one spot, one on the other
        (((0, 0), (10, 10)), ((0, 0), (-5, -5)), False),  # two of one spot, opposite
        (((0, 0), (10, 0)), ((11, 0), (20, 0)), False),  # in one line, apart
        (((0, 0), (10, 0)), ((10, 0), (20, 0)), True),  # in one line, touching
        (((0, 0), (10, 0)), ((4, 0), (5, 0)), True),  # in one line, one inside
        (((0, 0), (10, 10)), ((0, 1), (10, 11)), False),  # side by side
        (((0, 0), (10, 10)), ((6, 5), (12, 0)), False),  # near, not touching
    ],
)
def test_when_leaders_meet(one, two, met):
    assert meet(one, two) is met and meet(two, one) is met
