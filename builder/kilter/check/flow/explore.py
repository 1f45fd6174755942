"""The exact walk over (step, state), breadth first: the first way found is a shortest one."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Protocol

from kilter.check.flow.facts import Facts
from kilter.check.flow.graph import Crossing, Graph

Mark = tuple[int, int]
"""Something that was met in a step: what, and a detail (a level, a mask)."""

Seen = dict[int, "tuple[int, int] | None"]
"""State -> the (node, state) it was first reached from."""


class Op:
    """What one monitor does in steps that are alike to it; remembers what it worked out."""

    __slots__ = ("key", "memo")

    def __init__(self, key: tuple[Any, ...]) -> None:
        self.key = key
        self.memo: dict[int, tuple[int, tuple[Mark, ...]]] = {}


class Monitor(Protocol):
    """Watches one slice of the state; states are integers."""

    start: int
    ops: list[Op | None]
    """By facts; None where the step means nothing to the slice."""

    def apply(self, op: Op, state: int, recover: bool) -> tuple[int, tuple[Mark, ...]]: ...

    def relaxed(self, facts: Facts) -> Op | None:
        """What the step means as if it kept hands away."""
        ...

    def crosses(self, crossing: Crossing) -> bool:
        """Whether the crossing may change the slice."""
        ...

    def cross(self, crossing: Crossing, before: int, after: int) -> int: ...


class TooLargeError(Exception):
    """More states than can be proved."""


@dataclass
class Budget:
    """How many states may still be visited."""

    left: int


@dataclass
class Run:
    """All states that a monitor can be in before each node, and what it met."""

    graph: Graph
    monitor: Monitor
    recover: bool
    ops: list[Op | None]
    """By facts, as used in this run."""
    seen: list[Seen]
    met: dict[tuple[int, Mark], int] = field(default_factory=dict)
    """(node, mark) -> the first state, which is one with a shortest way in."""

    def way(self, node: int, state: int) -> list[tuple[int, int]]:
        """A shortest way in, as nodes with the states before them."""
        found: list[tuple[int, int]] = [(node, state)]
        while (before := self.seen[found[-1][0]][found[-1][1]]) is not None:
            found.append(before)
        found.reverse()
        return found

    def step(self, node: int, state: int) -> tuple[int, tuple[Mark, ...]]:
        """What the node does to a state."""
        op = self.ops[self.graph.node_facts[node]]
        return (state, ()) if op is None else self.monitor.apply(op, state, self.recover)


def mend(graph: Graph, raw: Run, unmarked: set[int], budget: Budget) -> Run:
    """The walk again, going on after each fault as if it were mended; `unmarked` facts keep hands away."""
    ops = [raw.monitor.relaxed(f) if n in unmarked else raw.ops[n] for n, f in enumerate(graph.facts)]
    for op in ops:
        if op is not None:
            op.memo = {}
    return explore(graph, raw.monitor, budget, ops, recover=True)


def explore(
    graph: Graph, monitor: Monitor, budget: Budget, ops: list[Op | None] | None = None, recover: bool = False
) -> Run:
    """Visit every reachable (node, state) once. Raises TooLargeError past the budget."""
    ops = monitor.ops if ops is None else ops
    run = Run(graph, monitor, recover, ops, [{} for _ in graph.edges])
    seen, met, links = run.seen, run.met, graph.links
    node_ops = [ops[f] for f in graph.node_facts]
    tables: list[dict[object, int] | None] = [{} if monitor.crosses(c) else None for c in graph.crossings]
    apply, cross, crossings = monitor.apply, monitor.cross, graph.crossings
    seen[0][monitor.start] = None
    queue: list[tuple[int, int]] = [(0, monitor.start)]
    left = budget.left
    for item in queue:
        node, state = item
        op = node_ops[node]
        after = state
        if op is not None:
            known = op.memo.get(state)
            if known is None:
                known = op.memo[state] = apply(op, state, recover)
            after, marks = known
            for mark in marks:
                met.setdefault((node, mark), state)
        for to, number in links[node]:
            table = tables[number]
            new = after
            if table is not None:
                key: object = (state, after) if crossings[number].needs_before else after
                known_new = table.get(key)
                if known_new is None:
                    known_new = table[key] = cross(crossings[number], state, after)
                new = known_new
            there = seen[to]
            if new not in there:
                there[new] = item
                queue.append((to, new))
        if len(queue) > left:
            raise TooLargeError
    budget.left = left - len(queue)
    return run
