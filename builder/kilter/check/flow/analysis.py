"""The result of the analysis."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from kilter.check.flow.explore import Run
from kilter.check.flow.fields import HANDS
from kilter.check.flow.graph import Graph
from kilter.check.flow.machine import I, Machine
from kilter.check.flow.marks import M
from kilter.check.flow.report import rule_at
from kilter.check.flow.sources import source_of
from kilter.check.flow.states import StepState, states_before
from kilter.check.flow.ways import plain_hops, shortest
from kilter.diagnostic import Diagnostic, Hop
from kilter.model.base import fold


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
    runs: tuple[Run, ...] = field(default=(), repr=False)
    """Guards, work, then one run a source in the profile's order; none where it was too large to prove."""
    visited: int = 0
    """States that were looked at."""

    @cached_property
    def before(self) -> Mapping[str, StepState]:
        """The worst state before each reachable step, by step key."""
        if self.machine is None or not self.runs:
            return {}
        return states_before(self.graph, self.machine, list(self.runs[2:]), self.runs[0])

    @cached_property
    def unmet(self) -> frozenset[tuple[str, str, str]]:
        """(step key, rule, source or nothing) of every obligation that is unmet on some way, before any merging."""
        return frozenset(
            (self.graph.key(node), rule_at(mark[0], self.graph.at(node).hands), source_of(run))
            for run in self.runs
            for node, mark in run.met
            if mark[0] != M.NEEDED
        )

    @cached_property
    def hands(self) -> Mapping[str, str]:
        """The effective hands of each reachable step, by step key."""
        graph = self.graph
        return {
            graph.key(n): HANDS[graph.at(n).hands] for n in range(len(graph.links)) if not graph.at(n).after
        }

    def strip(self, step: str) -> tuple[tuple[str, str], ...]:
        """What must be true before a step: each source with the worst that may be there, in readers' words.

        A store that nothing cuts off, such as a spring, is `charged` until it is let go, and one that nothing lets
        go either, such as a sealed vessel, until it is proved.
        """
        state = self.before.get(step)
        if state is None or self.machine is None:
            return ()
        sources = self.machine.front.sources
        charged = {n for n, source in sources.items() if not source.can_be_cut}
        return tuple(
            (
                s.name,
                "charged" if s.name in charged and (s.level == I or s.word == "never cut off") else s.word,
            )
            for s in state.sources
        )

    def held(self, step: str) -> tuple[str, ...]:
        """The sources that our locks hold when a step is done, whichever way one comes."""
        state = self.before.get(step)
        if state is None:
            return ()
        cut = self._marked(step, "isolates")
        return tuple(s.name for s in state.sources if s.held or fold(s.name) in cut)

    def guards_off(self, step: str) -> tuple[str, ...]:
        """The guards that may be off when a step is done."""
        state = self.before.get(step)
        if state is None or self.machine is None:
            return ()
        on, off = self._marked(step, "refits"), self._marked(step, "removes")
        before = {fold(g) for g in state.guards_off}
        return tuple(g for g in self.machine.front.guards if fold(g) in (before - on) | off)

    def proof_failed(self, step: str) -> bool:
        """Whether a proof failed on some way to a step."""
        graph = self.graph
        reached = {n for n in range(len(graph.links)) if graph.key(n) == step}
        came: dict[int, list[tuple[int, bool]]] = {}
        for node, edges in enumerate(graph.edges):
            for edge in edges:
                failure = edge.answer.failure if edge.answer else None
                came.setdefault(edge.to, []).append(
                    (node, failure is not None and failure.mark == "not-zero")
                )
        queue = list(reached)
        while queue:
            for node, failed in came.get(queue.pop(), ()):
                if failed:
                    return True
                if node not in reached:
                    reached.add(node)
                    queue.append(node)
        return False

    def _marked(self, step: str, effect: str) -> set[str]:
        facts = next(
            (self.graph.at(n) for n in range(len(self.graph.links)) if self.graph.key(n) == step), None
        )
        roles = facts.step.roles if facts else ()
        return {name.key for role in roles if role.name == effect for name in role.names}

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
