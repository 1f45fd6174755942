"""The step graph: every step in every call, and every way from one to the next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import IntEnum

from kilter.check.flow.facts import Facts
from kilter.check.flow.places import Place
from kilter.model.document import Answer, Stage

MOST_NODES = 200_000
"""More steps-in-calls than this can't be proved; nested calls multiply."""


class Kind(IntEnum):
    """What crossing an edge means for cautions and for what builds up again."""

    SAME = 0
    STAGE = 1
    """Into another stage, also out of a shared one for good."""
    CALL = 2
    BACK = 3
    LEAVE = 4
    """Out of a shared stage for good, into the stage that asked for it: no boundary."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """All that matters of an edge; edges that are alike share one."""

    kind: Kind
    place: int
    """The stage that is entered, for STAGE and CALL; for LEAVE the number of calls that end."""
    failed: int = 0
    """Sources whose proof failed on this answer."""
    undone: int = 0
    """Other sources acted on in the step: what was done to them does not count on this answer."""
    untested: int = 0
    """Tests that failed on this answer."""

    @property
    def needs_before(self) -> bool:
        return bool(self.failed or self.undone)


@dataclass(frozen=True, slots=True)
class Edge:
    """A way on."""

    to: int
    crossing: int
    answer: Answer | None
    jump: bool = False


Call = tuple[int, int, int]
"""A call that is open: the facts to return to, the shared stage, the calling facts."""


@dataclass(slots=True)
class Graph:
    """Nodes are numbered; node 0 is the first step."""

    facts: list[Facts] = field(default_factory=list)
    places: list[Place] = field(default_factory=list)
    node_facts: list[int] = field(default_factory=list)
    node_calls: list[tuple[Call, ...]] = field(default_factory=list)
    edges: list[list[Edge]] = field(default_factory=list)
    links: list[list[tuple[int, int]]] = field(default_factory=list)
    """The same edges as (to, crossing), for the walk."""
    crossings: list[Crossing] = field(default_factory=list)
    unresolved: set[int] = field(default_factory=set)
    """Facts from which a named place could not be found: another rule says so."""
    recursive: list[tuple[int, str]] = field(default_factory=list)
    """Facts that ask for a shared stage from inside itself."""
    shared: tuple[Stage, ...] = ()
    """The shared stages that can be asked for, asked for or not."""
    too_large: bool = False
    depth: int = 0

    def key(self, node: int) -> str:
        return self.facts[self.node_facts[node]].key

    def at(self, node: int) -> Facts:
        return self.facts[self.node_facts[node]]


def reverse(graph: Graph) -> list[list[int]]:
    """From where each node can be reached in one step."""
    into: list[list[int]] = [[] for _ in graph.edges]
    for node, edges in enumerate(graph.links):
        for to, _ in edges:
            into[to].append(node)
    return into


def walk_from(links: list[list[int]], starts: Iterator[int]) -> set[int]:
    """Every node that can be reached."""
    queue = list(starts)
    seen = set(queue)
    for node in queue:
        for to in links[node]:
            if to not in seen:
                seen.add(to)
                queue.append(to)
    return seen
