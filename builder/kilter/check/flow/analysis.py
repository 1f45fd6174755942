"""The result of the analysis."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from kilter.check.flow.explore import Run
from kilter.check.flow.fields import HANDS
from kilter.check.flow.graph import Graph
from kilter.check.flow.machine import Machine
from kilter.check.flow.states import StepState, states_before
from kilter.check.flow.ways import plain_hops, shortest
from kilter.diagnostic import Diagnostic, Hop


@dataclass(frozen=True)
class GraphNode:
    """A step in a call."""

    number: int
    key: str
    title: str
    calls: tuple[str, ...]
    """Keys of the calling steps, outermost first."""
    after: bool
    """The half of a calling step that comes after the return."""
    exit: str
    """`service`, `tagged`, `found` or nothing."""


@dataclass(frozen=True)
class GraphEdge:
    """A way on."""

    start: int
    to: int
    answer: str
    failed: bool
    kind: str
    """`same`, `stage`, `call` or `back`."""


@dataclass(frozen=True)
class Analysis:
    """All that the energy analysis knows of a document; what is not asked for is not worked out."""

    findings: tuple[Diagnostic, ...] = ()
    graph: Graph = field(default_factory=Graph, repr=False)
    machine: Machine | None = field(default=None, repr=False)
    sources: tuple[Run, ...] = field(default=(), repr=False)
    """One run a source, in the profile's order."""
    guards: Run | None = field(default=None, repr=False)
    visited: int = 0
    """States that were looked at."""

    @cached_property
    def before(self) -> Mapping[str, StepState]:
        """The worst state before each reachable step, by step key."""
        if self.machine is None or self.guards is None:
            return {}
        return states_before(self.graph, self.machine, list(self.sources), self.guards)

    @cached_property
    def hands(self) -> Mapping[str, str]:
        """The effective hands of each reachable step, by step key."""
        graph = self.graph
        return {
            graph.key(n): HANDS[graph.at(n).hands] for n in range(len(graph.links)) if not graph.at(n).after
        }

    def ways(self, step: str) -> tuple[Hop, ...]:
        """A shortest way to a step, by its key; empty where none leads there."""
        wanted = {
            n
            for n in range(len(self.graph.links))
            if self.graph.key(n) == step and not self.graph.at(n).after
        }
        nodes = shortest(self.graph, wanted) if wanted else None
        return plain_hops(self.graph, nodes) if nodes else ()

    @cached_property
    def nodes(self) -> tuple[GraphNode, ...]:
        """Every step in every call, the first step first."""
        graph = self.graph
        return tuple(
            GraphNode(
                number=node,
                key=graph.key(node),
                title=graph.at(node).step.title,
                calls=tuple(graph.facts[c[2]].key for c in graph.node_calls[node]),
                after=graph.at(node).after,
                exit=graph.at(node).exit or "",
            )
            for node in range(len(graph.links))
        )

    @cached_property
    def edges(self) -> tuple[GraphEdge, ...]:
        """Every way from one node to the next."""
        graph = self.graph
        return tuple(
            GraphEdge(
                start=node,
                to=edge.to,
                answer=edge.answer.words if edge.answer else "",
                failed=bool(edge.answer and edge.answer.failure),
                kind=graph.crossings[edge.crossing].kind.name.lower(),
            )
            for node, edges in enumerate(graph.edges)
            for edge in edges
        )
