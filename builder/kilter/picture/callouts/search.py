"""Which item gets which place.

The shortest leaders together never cross: of two that cross, an exchange would be shorter. But they run over other
items and along edges. Weighing that in as well brings crossings back, so: if the cheapest way by all costs has none,
it is the best there is; else begin with the shortest leaders and change them only where the cost falls and none meet.
For a few items the result is then held against every other way.
"""

from __future__ import annotations

from collections.abc import Iterator

from kilter.picture.callouts.assign import cheapest
from kilter.picture.callouts.cost import Costs
from kilter.picture.callouts.exact import bettered

LEAST = 1e-6
"""A gain below this is rounding."""
CHAINS = 16
"""Items up to which also moves are tried where one item takes the place of another, which goes elsewhere."""
FEW, SOME = 7, 12
"""Items up to which the best way is found for certain, and up to which it is looked for a while."""
ALL, A_WHILE = 1_000_000, 4_000
"""Ways begun in that search."""
Change = tuple[tuple[int, int], ...]
"""Items with their new places."""


def places_for(costs: Costs) -> list[int]:
    """The place of each item."""
    best = cheapest(costs.table)
    if not costs.clashes(best):
        return best
    starts = (cheapest(costs.lengths), _untangled(costs, best))
    ends = [_improved(costs, start) for start in starts]
    held = min(ends, key=lambda held: (len(costs.clashes(held)), costs.total(held)))
    if len(held) > SOME or costs.clashes(held):
        return held
    return bettered(costs, held, ALL if len(held) <= FEW else A_WHILE)


def _untangled(costs: Costs, held: list[int]) -> list[int]:
    """Exchange the places of two items whose leaders meet, until none do; each exchange makes the whole shorter."""
    held = list(held)
    for _ in range(len(held) ** 2 + 1):
        pairs = costs.clashes(held)
        if not pairs:
            break
        i, j = pairs[0]
        held[i], held[j] = held[j], held[i]
    return held


def _improved(costs: Costs, held: list[int]) -> list[int]:
    """Take the best change again and again, until there is none."""
    held = list(held)
    while True:
        before = len(costs.clashes(held))
        change = _best(costs, held, before)
        if change is None:
            return held
        for item, place in change:
            held[item] = place


def _best(costs: Costs, held: list[int], clashes: int) -> Change | None:
    """The change that saves most and brings no meeting; while leaders do meet, one that frees them comes first."""
    table, ranked = costs.table, list[tuple[float, Change]]()
    for change in _changes(costs, held):
        gain = sum(table[i][held[i]] - table[i][p] for i, p in change)
        if gain > LEAST or clashes:
            ranked.append((-gain, change))
    ranked.sort()
    if clashes:
        return _freeing(costs, held, ranked)
    return next((change for _, change in ranked if _fits(costs, held, change)), None)


def _freeing(costs: Costs, held: list[int], ranked: list[tuple[float, Change]]) -> Change | None:
    involved = {item for pair in costs.clashes(held) for item in pair}
    ranked = [r for r in ranked if any(i in involved for i, _ in r[1])]
    return next((change for _, change in ranked if _fits(costs, held, change)), None)


def _changes(costs: Costs, held: list[int]) -> Iterator[Change]:
    taken, n = set(held), len(held)
    free = [p for p in range(len(costs.places)) if p not in taken]
    for i in range(n):
        yield from (((i, p),) for p in free)
        yield from (((i, held[j]), (j, held[i])) for j in range(i + 1, n))
        if n <= CHAINS:
            yield from (((i, held[j]), (j, p)) for j in range(n) if j != i for p in free)


def _fits(costs: Costs, held: list[int], change: Change) -> bool:
    """Whether no changed leader meets another."""
    new = dict(change)
    for item, place in change:
        for other, kept in enumerate(held):
            if other != item and costs.clash(item, place, other, new.get(other, kept)):
                return False
    return True
