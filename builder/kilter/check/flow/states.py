"""What is known before each step, for the energy strip and for reviewers."""

from __future__ import annotations

from dataclasses import dataclass

from kilter.check.flow.explore import Run
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import HANDS
from kilter.check.flow.graph import Graph
from kilter.check.flow.machine import L, Machine
from kilter.check.flow.obligations import by_hands
from kilter.check.flow.sources import SourceMonitor


@dataclass(frozen=True, slots=True)
class SourceState:
    """One source before a step."""

    name: str
    level: int
    """0 live, 1 isolated and charged, 2 dissipated, 3 proved zero: the worst on any way in."""
    word: str
    """The same in readers' words."""
    best: int
    """The best on any way in; where it differs from `level`, ways differ."""
    held: bool
    """Our hold is on, whichever way one comes."""
    required: int
    """The level that must be true before the step; 0 asks nothing."""
    required_word: str
    """The same in readers' words, empty where nothing is asked."""
    explained: str
    """The reason that explains the source away, if one does."""


@dataclass(frozen=True, slots=True)
class StepState:
    """All sources before a step, in the profile's order."""

    hands: str
    sources: tuple[SourceState, ...]
    guards_off: tuple[str, ...]
    """Guards that may be off."""


def states_before(graph: Graph, machine: Machine, sources: list[Run], guards: Run) -> dict[str, StepState]:
    """By step key; a step that is done in several calls has the worst of all."""
    nodes: dict[str, list[int]] = {}
    for node in range(len(graph.links)):
        if not graph.at(node).after:
            nodes.setdefault(graph.key(node), []).append(node)
    return {key: _state(graph, machine, those, sources, guards) for key, those in nodes.items()}


def _state(graph: Graph, machine: Machine, nodes: list[int], sources: list[Run], guards: Run) -> StepState:
    facts = graph.at(nodes[0])
    off = 0
    for node in nodes:
        for state in guards.seen[node]:
            off |= state
    return StepState(
        HANDS[facts.hands], tuple(_source(facts, run, nodes) for run in sources), machine.guard_names(off)
    )


def _source(facts: Facts, run: Run, nodes: list[int]) -> SourceState:
    monitor = run.monitor
    assert isinstance(monitor, SourceMonitor)
    energy = monitor.energy
    states = [state for node in nodes for state in run.seen[node]]
    worst = min((s & 3 for s in states), default=L)
    asks = by_hands(facts, energy).level if facts.exposes else L
    reason = _reason(facts, energy.bit) if asks else ""
    required = L if reason else asks
    return SourceState(
        name=energy.name,
        level=worst,
        word=energy.word(worst),
        best=max((s & 3 for s in states), default=L),
        held=bool(states) and all(s >> 2 & 1 for s in states),
        required=required,
        required_word="" if required == L else _asked_word(required, energy.word(required)),
        explained=reason,
    )


def _asked_word(level: int, word: str) -> str:
    if word == "never cut off":
        return ""
    return {1: "isolated", 2: "released" if word.startswith("released") else "isolated"}.get(level, word)


def _reason(facts: Facts, bit: int) -> str:
    if facts.clear & bit:
        return next(e.reason for e in facts.exemptions if e.mask & bit)
    return facts.reason if facts.live & bit else ""
