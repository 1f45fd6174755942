"""The monitors of what is not a source: guards; people clear, tests done, nothing touched."""

from __future__ import annotations

from kilter.check.flow.explore import Mark, Op
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import CONTROLS, FOUND, INSIDE, PROBE, SERVICE
from kilter.check.flow.graph import Crossing, Graph
from kilter.check.flow.machine import Machine
from kilter.check.flow.marks import M


class GuardMonitor:
    """One bit a guard: off. After them one that only a mended walk sets: some guard must be off, none was marked."""

    def __init__(self, graph: Graph, machine: Machine) -> None:
        self.machine, self.start = machine, 0
        self.assumed = 1 << len(machine.guards)
        self._interned: dict[tuple[int, ...], Op] = {}
        self.ops = [self._op(facts) for facts in graph.facts]

    def relaxed(self, facts: Facts) -> Op | None:
        return self._op(facts)

    def _op(self, facts: Facts) -> Op | None:
        key = (
            int(asks_reason(facts)),
            int(bool(self.machine.guards) and asks_guard(facts)) * (2 if is_unmarked(facts) else 1),
            int(bool(facts.restores)),
            facts.removes,
            facts.refits,
            {SERVICE: int(M.SERVICE_GUARD), FOUND: int(M.FOUND_GUARD)}.get(facts.exit or "", 0),
        )
        if not any(key):
            return None
        return self._interned.setdefault(key, Op(key))

    def apply(self, op: Op, state: int, recover: bool) -> tuple[int, tuple[Mark, ...]]:
        reason, inside, restores, removes, refits, leaves = op.key
        met: list[Mark] = []
        assumed, state = state & self.assumed, state & ~self.assumed
        if reason and state:
            met.append((M.GUARD_OFF, state))
            state = 0 if recover else state
        if inside and not state | assumed:
            met.append((M.GUARDS_ON, 0))
            assumed = self.assumed if recover and inside == 1 else 0
        if restores and state:
            met.append((M.RESTORE_GUARD, state))
            state = 0 if recover else state
        assumed = 0 if restores else assumed
        state = (state | removes) & ~refits
        if leaves and state:
            met.append((leaves, state))
        return state | assumed, tuple(met)

    def crosses(self, crossing: Crossing) -> bool:
        return False

    def cross(self, crossing: Crossing, before: int, after: int) -> int:
        return after


def is_unmarked(facts: Facts) -> bool:
    """Whether hands count as inside only because the step says nothing: its mark may be forgotten."""
    return facts.hands == INSIDE and facts.explicit is None and not facts.kinds


def asks_reason(facts: Facts) -> bool:
    """Whether a guard may be off in this step only with a reason; restoring forbids it anyway."""
    return facts.hands <= CONTROLS and not facts.excused and not facts.reason and not facts.restores


def asks_guard(facts: Facts) -> bool:
    """Whether hands go where they can't go with every guard on."""
    return facts.hands in (INSIDE, PROBE)


CLEAR, UNTOUCHED, TESTS = 1, 2, 2
"""Bit 0 people clear, bit 1 untouched, then one bit a test (one for all where the profile names none)."""


class WorkMonitor:
    """People clear, nothing touched, tests done since the last exposure."""

    def __init__(self, graph: Graph, machine: Machine) -> None:
        self.machine, self.start = machine, UNTOUCHED
        self.wanted = (1 << max(1, len(machine.tests))) - 1
        self._interned: dict[tuple[int, ...], Op] = {}
        self.ops = [self._op(facts) for facts in graph.facts]

    def relaxed(self, facts: Facts) -> Op | None:
        return self._op(facts, False)

    def _op(self, facts: Facts, exposes: bool | None = None) -> Op | None:
        exposes = facts.exposes if exposes is None else exposes
        touches = exposes or bool(facts.isolates | facts.restores | facts.removes)
        key = (
            int(bool(facts.restores)),
            int(exposes),
            int(touches),
            facts.tests,
            int(facts.all_clear),
            {SERVICE: int(M.SERVICE_UNTESTED), FOUND: int(M.FOUND_TOUCHED)}.get(facts.exit or "", 0),
        )
        if not any(key):
            return None
        return self._interned.setdefault(key, Op(key))

    def apply(self, op: Op, state: int, recover: bool) -> tuple[int, tuple[Mark, ...]]:
        restores, exposes, touches, tests, clear, leaves = op.key
        met: list[Mark] = []
        if restores and not state & CLEAR:
            met.append((M.RESTORE_CLEAR, 0))
            state |= CLEAR if recover else 0
        if exposes:
            state &= UNTOUCHED
        if touches:
            state &= ~UNTOUCHED
        state |= tests << TESTS | (CLEAR if clear else 0)
        if leaves == M.SERVICE_UNTESTED and (missing := self.wanted & ~(state >> TESTS)):
            met.append((M.SERVICE_UNTESTED, missing))
        if leaves == M.FOUND_TOUCHED and not state & UNTOUCHED:
            met.append((M.FOUND_TOUCHED, 0))
        return state, tuple(met)

    def crosses(self, crossing: Crossing) -> bool:
        return bool(crossing.untested)

    def cross(self, crossing: Crossing, before: int, after: int) -> int:
        return after & ~(crossing.untested << TESTS)
