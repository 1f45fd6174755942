"""The sources before a step, with what the reviewer asks of each: need, reason, caution, worst way."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from kilter.check.flow import Analysis, SourceState
from kilter.check.flow.explore import Run
from kilter.check.flow.facts import Facts
from kilter.check.flow.machine import Energy, I, L, Z
from kilter.check.flow.obligations import NONE, READ, asked, by_hands
from kilter.check.flow.slice import Moment
from kilter.check.flow.sources import SourceMonitor
from kilter.check.flow.ways import hops
from kilter.diagnostic import Hop
from kilter.model.front import ProfileFront
from kilter.publish.states.data import InForce, SourceLine, Stop

Stops = Callable[[Iterable[Hop]], tuple[Stop, ...]]


class SourceTable:
    """Works out the lines of each step from the runs of the analysis."""

    def __init__(self, analysis: Analysis, equipment: ProfileFront, stops: Stops) -> None:
        self.analysis, self.equipment, self.stops = analysis, equipment, stops

    def lines(self, key: str, nodes: set[int]) -> tuple[SourceLine, ...]:
        """Every source before the step, in the profile's order; none where nothing is known."""
        state = self.analysis.before.get(key)
        if state is None:
            return ()
        facts = self.analysis.graph.at(min(nodes))
        runs = self.analysis.runs[2:]
        return tuple(
            self._line(source, run, facts, sorted(nodes))
            for source, run in zip(state.sources, runs, strict=True)
        )

    def _line(self, state: SourceState, run: Run, facts: Facts, nodes: list[int]) -> SourceLine:
        monitor = run.monitor
        assert isinstance(monitor, SourceMonitor)
        energy = monitor.energy
        unasked = by_hands(facts, energy).level if facts.exposes and state.explained else L
        return SourceLine(
            source=state.name,
            word=self.equipment.sources[state.name].word,
            level=state.level,
            worst=self._word(energy, state.level),
            best_level=state.best,
            best=self._word(energy, state.best),
            held=state.held,
            needs_level=state.required,
            needs=self._need(energy, state.required),
            without_reason=self._need(energy, unasked),
            reason=state.explained,
            caution_asked=facts.exposes and asked(facts, energy).caution != NONE,
            caution=_caution(run, monitor, facts, nodes),
            worst_way=self._worst(run, nodes, state.level) if state.best != state.level else (),
        )

    def _word(self, energy: Energy, level: int) -> str:
        charged = level == I and not self.equipment.sources[energy.name].can_be_cut
        return "charged" if charged else energy.word(level)

    def _need(self, energy: Energy, level: int) -> str:
        if level == L:
            return ""
        if level == I:
            return "isolated" if self.equipment.sources[energy.name].can_be_cut else "no release yet"
        if level == Z:
            return energy.word(Z)
        return "released" if energy.landing == I else "isolated"

    def _worst(self, run: Run, nodes: list[int], level: int) -> tuple[Stop, ...]:
        """The shortest way among those that leave the worst level."""
        ways = (
            run.way(n, next(s for s in run.seen[n] if s & 3 == level)) for n in nodes if _has(run, n, level)
        )
        return self.stops(hops(run, min(ways, key=len)))


def _has(run: Run, node: int, level: int) -> bool:
    return any(s & 3 == level for s in run.seen[node])


def _caution(run: Run, monitor: SourceMonitor, facts: Facts, nodes: list[int]) -> InForce:
    """Counting the panels of the step itself: they are read before anything is done."""
    energy = monitor.energy
    if any(mask & energy.bit and panel.rank >= energy.need for mask, panel in facts.panels):
        return "on every way"
    read = {bool(Moment(monitor.layout, s).in_force & READ) for n in nodes for s in run.seen[n]}
    if read == {True}:
        return "on every way"
    return "on some ways" if True in read else "on no way"
