"""The best layout of a few items: every way is tried that could still be cheaper than the best one known."""

from __future__ import annotations

from dataclasses import dataclass, field

from kilter.picture.callouts.cost import Costs


@dataclass
class _Hunt:
    costs: Costs
    most: int
    """Ways begun before it stops; the same on every machine, which a time would not be."""
    found: float
    best: list[int]
    ways: list[list[int]] = field(default_factory=list)
    rest: list[float] = field(default_factory=list)
    """What the items from the i-th on cost at least."""
    held: list[int] = field(default_factory=list)
    begun: int = 0

    def go(self, so_far: float) -> None:
        """Try all places for the next item, the cheapest first."""
        i = len(self.held)
        if i == len(self.rest) - 1:
            self.found, self.best = so_far, list(self.held)
            return
        for place in self.ways[i]:
            cost = so_far + self.costs.table[i][place]
            if cost + self.rest[i + 1] >= self.found or self.begun >= self.most:
                return
            if self.fits(i, place):
                self.begun += 1
                self.held.append(place)
                self.go(cost)
                self.held.pop()

    def fits(self, item: int, place: int) -> bool:
        """Whether the place is free and the leader meets none of those before."""
        return place not in self.held and not any(
            self.costs.clash(item, place, j, q) for j, q in enumerate(self.held)
        )


def bettered(costs: Costs, held: list[int], most: int) -> list[int]:
    """The cheapest way without leaders that meet, begun from one such way; the best there is unless `most` ends it."""
    known = costs.total(held) * (1 - 1e-9)
    hunt = _Hunt(costs, most, known, held)
    hunt.ways = [sorted(range(len(row)), key=row.__getitem__) for row in costs.table]
    hunt.rest = [0.0]
    for row in reversed(costs.table):
        hunt.rest.insert(0, hunt.rest[0] + min(row))
    hunt.go(0.0)
    return hunt.best
