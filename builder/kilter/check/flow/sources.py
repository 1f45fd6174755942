"""The monitor of one source: its level, wait, hold and cautions, and whether its feeds are live."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from kilter.check.flow.explore import Mark, Op, Run
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import FOUND, SERVICE, TAGGED
from kilter.check.flow.graph import Crossing, Graph, Kind
from kilter.check.flow.layout import Layout
from kilter.check.flow.machine import Energy, L, Machine, bits
from kilter.check.flow.obligations import DANGER, NOTHING, READ, asked, exempted
from kilter.check.flow.slice import Moment
from kilter.model.text import Panel

EXITS = (SERVICE, FOUND, TAGGED)


class SourceMonitor:
    """Watches one source; its feeds are followed only as far as being live or cut."""

    def __init__(
        self, graph: Graph, machine: Machine, energy: Energy, top: Iterable[tuple[int, Panel]]
    ) -> None:
        self.graph, self.machine, self.energy = graph, machine, energy
        self.layout = Layout(machine, energy, graph.depth)
        self.panels = [self._rank(place.panels) for place in graph.places]
        self.start = self._start(self._rank(top))
        self._interned: dict[tuple[Any, ...], Op] = {}
        restless = 0
        for each in (energy, *self.layout.feeds):
            restless |= each.bit if each.feeds and each.entry == L else 0
        self.restless = bool(restless & self._loaded())
        self.ops = [self._op(facts, facts.exposes) for facts in graph.facts]

    def _loaded(self) -> int:
        found = 0
        for facts in self.graph.facts:
            found |= facts.loads
        return found

    def _start(self, top: int) -> int:
        moment = Moment(self.layout, 0)
        moment.level = self.energy.entry
        for n, feed in enumerate(self.layout.feeds):
            moment.live |= (feed.entry == L) << n
        first = self.graph.places.index(self.graph.at(0).place)
        moment.frames = top | self.panels[first] << 2
        return moment.packed()

    def _rank(self, panels: Iterable[tuple[int, Panel]]) -> int:
        """READ and DANGER bits of the gravest panel that names the source."""
        best = max((p.rank for mask, p in panels if mask & self.energy.bit), default=0)
        return (READ if best >= self.energy.need else 0) | (DANGER if best >= self.energy.live_need else 0)

    # What a step means to this source

    def relaxed(self, facts: Facts) -> Op | None:
        """As if the step kept hands away."""
        return self._op(facts, False)

    def _op(self, facts: Facts, exposes: bool) -> Op | None:
        key = self._key(facts, exposes)
        if not self.restless and not any(key):
            return None
        if (op := self._interned.get(key)) is None:
            op = self._interned[key] = Op(key)
        return op

    def _key(self, facts: Facts, exposes: bool) -> tuple[Any, ...]:
        energy, bit, mine = self.energy, self.energy.bit, self.layout.slice
        need = asked(facts, energy) if exposes else NOTHING
        spared = exempted(facts, energy) if exposes else NOTHING
        return (
            need.level, need.caution, spared.level, spared.caution,
            self._rank(facts.panels) if facts.panels else 0,
            facts.runs & bit,
            facts.isolates & mine,
            facts.waits if facts.waits and (energy.bleed is not None or energy.counts is not None) else (),
            self._held_for(facts) if facts.releases else 0,
            facts.releases & bit,
            facts.proves & bit,
            self._live_for(facts) if facts.restores else 0,
            facts.restores & mine,
            facts.twice & bit,
            facts.loads & mine,
            0 if facts.exit is None else EXITS.index(facts.exit) + 1,
        )  # fmt: skip

    def _held_for(self, facts: Facts) -> int:
        """Sources released in the step that ask for this one to be held."""
        others = (self.machine.energies[n] for n in bits(facts.releases))
        return sum(e.bit for e in others if e.release_held & self.energy.bit)

    def _live_for(self, facts: Facts) -> int:
        """Sources restored in the step that ask for this one to be live before."""
        others = (self.machine.energies[n] for n in bits(facts.restores))
        return sum(e.bit for e in others if e.restore_live & self.energy.bit)

    # What a step does to a state

    def apply(self, op: Op, state: int, recover: bool) -> tuple[int, tuple[Mark, ...]]:
        """The state after the step, and what was not met. `recover`: as if it had been met."""
        (level, caution, level_spared, caution_spared, panels, runs, isolates, waits,
         release_order, releases, proves, restore_order, restores, twice, loads, leaves) = op.key  # fmt: skip
        now = Moment(self.layout, state, recover)
        now.read(panels)
        now.expose(level, caution, level_spared, caution_spared)
        if runs:
            now.run()
        now.isolate(isolates)
        now.fall()
        for least, most in waits:
            now.wait(least, most)
        if release_order:
            now.held_for(release_order)
        if releases:
            now.release()
        if proves:
            now.prove()
        if restore_order:
            now.live_for(restore_order)
        if restores:
            now.restore(restores, bool(twice))
        if loads:
            now.load(loads)
        if restores or loads:
            now.expose_after(level, level_spared)
        if leaves:
            now.leave(EXITS[leaves - 1])
        return now.packed(), tuple(now.met)

    # What a way on does to a state

    def crosses(self, crossing: Crossing) -> bool:
        return crossing.kind != Kind.SAME or bool((crossing.failed | crossing.undone) & self.layout.slice)

    def cross(self, crossing: Crossing, before: int, after: int) -> int:
        now = Moment(self.layout, after)
        if (crossing.failed | crossing.undone) & self.layout.slice:
            now.fail(crossing.failed, crossing.undone, Moment(self.layout, before))
        if crossing.kind == Kind.STAGE:
            now.enter_stage(self.panels[crossing.place])
        elif crossing.kind == Kind.CALL:
            now.call(self.panels[crossing.place])
        elif crossing.kind == Kind.BACK:
            now.back(1)
        elif crossing.kind == Kind.LEAVE:
            now.back(crossing.place)
        return now.packed()


def source_of(run: Run) -> str:
    """Name of the source that a run watches, nothing for the others."""
    return run.monitor.energy.name if isinstance(run.monitor, SourceMonitor) else ""
