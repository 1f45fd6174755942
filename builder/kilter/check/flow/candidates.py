"""What was met on the way, narrowed to what to report: one mistake, one candidate."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from kilter.check.flow.explore import Mark, Run
from kilter.check.flow.facts import Facts
from kilter.check.flow.machine import D, Energy, I, L, Machine, bits
from kilter.check.flow.marks import M
from kilter.check.flow.sources import SourceMonitor
from kilter.check.flow.ways import Way

MOST = 60
"""Candidates of one monitor that are looked into; a document with more is refused anyway."""

_LEVELS = (M.LEVEL, M.AFTER, M.PROVE, M.RELEASE)
_BACK = (M.RUNS, M.RESTORE_ORDER, M.SERVICE_HELD)


@dataclass
class Candidate:
    """One obligation that is not met in one step."""

    code: int
    detail: int
    node: int
    state: int
    run: Run
    way: Way
    energy: Energy | None = None
    roots: int = 0
    """Sources to cut off, where that is what is missing."""
    origin: int | None = None
    """The node that undid what was asked (put it back, entered a stage); None: it never was."""
    cause: tuple[object, ...] = ()
    sources: list[Energy] = field(default_factory=list)
    also: list[Candidate] = field(default_factory=list)
    """The same cause, elsewhere."""

    @property
    def facts(self) -> Facts:
        return self.run.graph.at(self.node)

    @property
    def at(self) -> int:
        return self.run.graph.node_facts[self.node]


def candidates(raw: Run, mended: Run | None, machine: Machine) -> list[Candidate]:
    """What both runs have, from the one that goes on as if each fault were mended."""
    graph = raw.graph
    if mended is None:
        return []
    both = {(graph.node_facts[node], mark[0]) for node, mark in raw.met}
    found: dict[tuple[int, Mark], Candidate] = {}
    for (node, mark), state in mended.met.items():
        at = graph.node_facts[node]
        if mark[0] != M.NEEDED and (at, mark[0]) in both and (at, mark) not in found and len(found) < MOST:
            way = mended.way(node, state)
            found[at, mark] = _explained(Candidate(mark[0], mark[1], node, state, mended, way), machine)
    return list(found.values())


def _explained(found: Candidate, machine: Machine) -> Candidate:
    """With the cause: two candidates of one cause are one mistake."""
    monitor = found.run.monitor
    if isinstance(monitor, SourceMonitor):
        found.energy = monitor.energy
        found.sources = [monitor.energy]
        _source_cause(found, monitor, machine)
    else:
        place = found.facts.place
        found.cause = (found.code, id(place) if found.code == M.GUARDS_ON else 0)
    return found


def _source_cause(found: Candidate, monitor: SourceMonitor, machine: Machine) -> None:
    energy = monitor.energy
    if found.code == M.AFTER:
        found.cause = (M.AFTER, found.at)
    elif found.code in _LEVELS:
        if found.detail == L:
            found.roots = _roots(found, monitor, machine)
            found.origin = _fell(found, monitor, found.roots)
            found.cause = ("cut", energy.at, _facts(found, found.origin))
        else:
            found.origin = _dropped(found)
            found.cause = (
                "release" if found.detail == I else "prove",
                energy.at,
                _facts(found, found.origin),
            )
            assert found.detail in (I, D)
    elif found.code in (M.CAUTION, M.DANGER):
        found.origin = _died(found, monitor)
        found.cause = (found.code, energy.at, _facts(found, found.origin), _stage(found))
    elif found.code in _BACK:
        found.cause = ("back", energy.at)
    else:
        found.cause = (found.code, energy.at, found.at)


def _facts(found: Candidate, node: int | None) -> int | None:
    return None if node is None else found.run.graph.node_facts[node]


def _stage(found: Candidate) -> int:
    """The stage that stands open below all calls: where a panel would hold."""
    graph = found.run.graph
    calls = graph.node_calls[found.node]
    return id(graph.facts[calls[0][2]].place if calls else found.facts.place)


def _roots(found: Candidate, monitor: SourceMonitor, machine: Machine) -> int:
    """The sources that keep this one live: itself, or those of its feeds that are not cut."""
    live, by = found.state >> 3 & monitor.layout.live_mask, monitor.layout.feeds
    live_now = sum(f.bit for n, f in enumerate(by) if live >> n & 1) & ~found.facts.isolates
    roots, queue = 0, [monitor.energy]
    for energy in queue:
        feeding = energy.feeds & live_now & ~roots
        if energy.own or not feeding:
            roots |= energy.bit
        else:
            queue += [machine.energies[n] for n in bits(feeding)]
    return roots


def _fell(found: Candidate, monitor: SourceMonitor, roots: int) -> int | None:
    """The last node on the way after which a root is live again."""
    own = bool(roots & monitor.energy.bit)
    places = [n for n, f in enumerate(monitor.layout.feeds) if f.bit & roots]

    def cut(state: int) -> bool:
        if own:
            return state & 3 != L
        return not any(state >> 3 + n & 1 for n in places)

    return _last_change(found.way, cut)


def _dropped(found: Candidate) -> int | None:
    """The last node after which the level is lower than before it."""
    return _last_change(found.way, lambda state: state & 3 > found.detail)


def _died(found: Candidate, monitor: SourceMonitor) -> int | None:
    """The last node after which all cautions of the source are gone."""
    layout = monitor.layout
    width = (1 << layout.waited - layout.frames) - 1
    return _last_change(found.way, lambda state: bool(state >> layout.frames & width), restored=monitor)


def _last_change(way: Way, held: object, restored: SourceMonitor | None = None) -> int | None:
    assert callable(held)
    for at in range(len(way) - 1, 0, -1):
        if held(way[at - 1][1]) and not held(way[at][1]):
            node = way[at - 1][0]
            if restored is not None and not restored.graph.at(node).restores & restored.layout.slice:
                return None
            return node
        if held(way[at][1]):
            return None
    return None


def merged(found: list[Candidate]) -> list[Candidate]:
    """One candidate a mistake: the feed for the store, the first step for all, all sources of a step at once."""
    return _orders_once(_by_step(_by_cause(_without_stores(found))))


def _without_stores(found: list[Candidate]) -> list[Candidate]:
    """Stores that are live because a feed is, which is reported itself."""
    blamed = {c.energy.at for c in found if c.energy is not None and c.roots & c.energy.bit}
    return [c for c in found if c.energy is None or not _is_store(c) or not blamed & set(bits(c.roots))]


def _is_store(found: Candidate) -> bool:
    """Whether something else is to be cut off than the source itself."""
    return found.energy is not None and bool(found.roots) and not found.roots & found.energy.bit


def _by_cause(found: Iterable[Candidate]) -> list[Candidate]:
    first: dict[tuple[object, ...], Candidate] = {}
    for each in sorted(found, key=lambda c: (len(c.way), c.node, c.code)):
        known = first.setdefault(each.cause, each)
        if known is not each:
            known.also.append(each)
    return list(first.values())


def _by_step(found: Iterable[Candidate]) -> list[Candidate]:
    """Sources at one step with the same way in, for which the same is missing."""
    first: dict[tuple[object, ...], Candidate] = {}
    for each in found:
        nodes = tuple(node for node, _ in each.way)
        same = (
            (each.at, each.code, each.detail, each.origin, nodes) if each.energy is not None else (id(each),)
        )
        known = first.setdefault(same, each)
        if known is not each:
            known.sources += each.sources
            known.roots |= each.roots
            known.also += each.also
    return list(first.values())


def _orders_once(found: list[Candidate]) -> list[Candidate]:
    """Released before another source is held, and live only because that one is: one mistake, told as the order."""
    orders = [c for c in found if c.code == M.RELEASE_ORDER]
    kept = []
    for each in found:
        order = next((o for o in orders if each.code == M.RELEASE and _same_hold(each, o)), None)
        if order is None:
            kept.append(each)
        else:
            order.also += each.also
    return kept


def _same_hold(released: Candidate, order: Candidate) -> bool:
    """Whether holding what the order asks for also cuts off what is released, in the same step."""
    asked = sum(e.bit for e in order.sources)
    acted = sum(e.bit for e in released.sources)
    return order.at == released.at and not released.roots & ~asked and not acted & ~order.detail


def another_way(found: Candidate) -> bool:
    """Whether the step can also be reached, in the same call, with nothing of this kind unmet."""
    run = found.run
    return any(
        all(mark[0] != found.code for mark in run.step(found.node, state)[1])
        for state in run.seen[found.node]
    )
