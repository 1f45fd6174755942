"""The best layout there is, by trying everything: branch and bound over all ways without a meeting of leaders."""

from __future__ import annotations

from math import inf

from kilter.picture.callouts.cost import Costs


def best(costs: Costs) -> tuple[float, list[int]]:
    """The least cost without two leaders that meet, and one way to it; infinite if every way has a meeting."""
    n = len(costs.items)
    ways = [sorted(range(len(costs.places)), key=lambda p, i=i: costs.table[i][p]) for i in range(n)]
    rest = [0.0] * (n + 1)  # what the items from i on cost at least
    for i in reversed(range(n)):
        rest[i] = rest[i + 1] + min(costs.table[i])
    found: list[tuple[float, list[int]]] = [(inf, [])]

    def go(held: list[int], so_far: float) -> None:
        i = len(held)
        if i == n:
            found[0] = (so_far, list(held))
            return
        for place in ways[i]:
            cost = so_far + costs.table[i][place]
            if cost + rest[i + 1] >= found[0][0]:
                break
            if place in held or any(costs.clash(j, q, i, place) for j, q in enumerate(held)):
                continue
            held.append(place)
            go(held, cost)
            held.pop()

    go([], 0.0)
    return found[0]
