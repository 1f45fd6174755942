"""Which steps must come before which: only where the energy policy leaves no other order.

That a step stands earlier in the text forces nothing. A pair is taken where an obligation or an effect asks for it on
one way through the document, with each effect on that way done once; the rest follows by closure:

- a source is cut off before it is released, waited for, proved and restored, released before it is proved;
- what is cut off through its feed needs the feed cut off first; the profile's `needs` say two orders more;
- hands go where a source must be off, released or proved after that, and before it is restored;
- with one step that takes guards off and one that fits them again: taken off, hands inside, fitted, restored;
- people are clear after the last hand was inside and before anything is restored;
- a machine that goes back to service is tested after that, and what the test runs on is restored before it.
"""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import INSIDE, OPEN, PROBE
from kilter.check.flow.machine import D, I, L, Machine, Z, bits
from kilter.check.flow.ways import shortest
from kilter.model.base import fold
from kilter.publish.training.questions.subject import Subject

Pairs = set[tuple[str, str]]
"""Keys of two steps, the first of which must come before the second."""


def forced_pairs(subject: Subject) -> Pairs:
    """Every forced pair on the ways back to service, closed."""
    found: Pairs = set()
    for way in ways_to_service(subject):
        pairs = _on_way(subject, way)
        if all(a < b for a, b in pairs):
            found |= {(way[a].key, way[b].key) for a, b in closed(pairs)}
    return {(a, b) for a, b in found if (b, a) not in found}


def ways_to_service(subject: Subject) -> Iterator[list[Facts]]:
    """Short ways from the first step over each step that exposes hands to the end; loops are left out."""
    graph = subject.analysis.graph
    ends = {n for n in range(len(graph.links)) if graph.at(n).exit == "service"}
    seen: set[tuple[int, ...]] = set()
    for node in range(len(graph.links)):
        if not graph.at(node).exposes or not ends:
            continue
        there = shortest(graph, {node})
        back = _from(graph.links, node, ends)
        if there is None or back is None:
            continue
        way = tuple(there + back[1:])
        facts = [graph.at(n) for n in way if graph.at(n).calls is None and not graph.at(n).after]
        keys = [f.key for f in facts]
        if way not in seen and len(set(keys)) == len(keys):
            yield facts
        seen.add(way)


def _from(links: list[list[tuple[int, int]]], start: int, wanted: set[int]) -> list[int] | None:
    before: dict[int, int | None] = {start: None}
    queue = [start]
    for node in queue:
        if node in wanted:
            way = [node]
            while (back := before[way[-1]]) is not None:
                way.append(back)
            return way[::-1]
        for to, _ in links[node]:
            if to not in before:
                before[to] = node
                queue.append(to)
    return None


def closed(pairs: set[tuple[int, int]]) -> set[tuple[int, int]]:
    """The transitive closure."""
    after: dict[int, set[int]] = {}
    for a, b in pairs:
        after.setdefault(a, set()).add(b)
    for node in sorted(after, reverse=True):
        for to in list(after[node]):
            after[node] |= after.get(to, set())
    return {(a, b) for a, those in after.items() for b in those}


def _on_way(subject: Subject, way: list[Facts]) -> set[tuple[int, int]]:
    machine = subject.analysis.machine
    assert machine is not None
    made = _Way(machine, way, _levels(subject, machine, way))
    return {(a, b) for a, b in made.pairs() if a != b}


def _levels(subject: Subject, machine: Machine, way: list[Facts]) -> list[dict[int, int]]:
    """The level that must be true of each source before each step of a way."""
    found = []
    for facts in way:
        state = subject.analysis.before.get(facts.key)
        asked = {machine.index[fold(s.name)]: s.required for s in state.sources} if state else {}
        found.append({at: level for at, level in asked.items() if level > L})
    return found


class _Way:
    """The effects of one way by place, each taken only where it is done exactly once."""

    def __init__(self, machine: Machine, way: list[Facts], levels: list[dict[int, int]]) -> None:
        self.machine, self.way, self.levels = machine, way, levels
        names = ("isolates", "releases", "proves", "restores", "loads", "runs")
        self.places: dict[tuple[str, int], list[int]] = {}
        for at, facts in enumerate(way):
            for name in names:
                for source in bits(getattr(facts, name)):
                    self.places.setdefault((name, source), []).append(at)
        self.waits = [at for at, f in enumerate(way) if f.waits]
        self.off = [at for at, f in enumerate(way) if f.removes]
        self.on = [at for at, f in enumerate(way) if f.refits]
        self.clear = [at for at, f in enumerate(way) if f.all_clear]
        self.tests = [at for at, f in enumerate(way) if f.tests]

    def once(self, name: str, source: int) -> int | None:
        """Where an effect is done, if it is done once; a source that is loaded on the way is left out."""
        places = self.places.get((name, source), [])
        return places[0] if len(places) == 1 and ("loads", source) not in self.places else None

    def pairs(self) -> Iterator[tuple[int, int]]:
        yield from self._sources()
        yield from self._hands()
        yield from self._guards()
        yield from self._clear()
        yield from self._service()

    def _sources(self) -> Iterator[tuple[int, int]]:
        for energy in self.machine.energies:
            cuts = [c for c in self._cuts(energy.at) if c is not None]
            dead = self._dead(energy.at)
            proof = self.once("proves", energy.at)
            back = self.once("restores", energy.at)
            ends = [self.once("releases", energy.at), proof, back if energy.own else None]
            if proof is not None or any(level.get(energy.at, L) >= D for level in self.levels):
                ends.append(dead)  # a wait alone asks nothing: it has to be one that something needs
            yield from ((cut, at) for cut in cuts for at in ends if at is not None)
            if dead is not None and proof is not None:
                yield dead, proof
            let_go = self.once("releases", energy.at)
            for other in bits(energy.release_held):
                held = self.once("isolates", other)
                if held is not None and let_go is not None:
                    yield held, let_go
            for other in bits(energy.restore_live):
                first = self.once("restores", other)
                if first is not None and back is not None and self.once("isolates", other) is not None:
                    yield first, back

    def _cuts(self, source: int) -> list[int | None]:
        """Where a source is cut off: itself, or each of its feeds."""
        energy = self.machine.energies[source]
        if ("isolates", source) in self.places:
            return [self.once("isolates", source)]
        return [cut for feed in bits(energy.feeds) for cut in self._cuts(feed)] if not energy.own else []

    def _dead(self, source: int) -> int | None:
        """Where what is stored goes: a release, or the only wait of the way that is long enough."""
        energy = self.machine.energies[source]
        if energy.landing != I:
            return None
        let_go = self.once("releases", source)
        if let_go is not None or ("releases", source) in self.places:
            return let_go
        waits = self.waits
        return waits[0] if energy.bleed is not None and len(waits) == 1 else None

    def _hands(self) -> Iterator[tuple[int, int]]:
        for at, asked in enumerate(self.levels):
            for source, level in asked.items():
                yield from ((before, at) for before in self._before(source, level) if before is not None)
                back = self.once("restores", source)
                if back is not None and self.once("isolates", source) is not None:
                    yield at, back

    def _before(self, source: int, level: int) -> list[int | None]:
        """What must be done to a source for a level."""
        found = list(self._cuts(source))
        if level >= D:
            found.append(self._dead(source))
        if level >= Z:
            found.append(self.once("proves", source))
        return found

    def _guards(self) -> Iterator[tuple[int, int]]:
        if len(self.off) != 1 or len(self.on) != 1:
            return
        off, on = self.off[0], self.on[0]
        for at, facts in enumerate(self.way):
            if facts.hands == INSIDE or (facts.hands == PROBE and not facts.outside):
                yield off, at
                yield at, on
        for back in self._restores_after(off):
            yield off, on
            yield on, back

    def _restores_after(self, at: int) -> list[int]:
        """Restores that can't come before a step, because of what it asks."""
        found = []
        for source in self.levels[at]:
            back = self.once("restores", source)
            if back is not None and self.once("isolates", source) is not None:
                found.append(back)
        return found

    def _clear(self) -> Iterator[tuple[int, int]]:
        if len(self.clear) != 1:
            return
        clear = self.clear[0]
        for (name, _), places in self.places.items():
            if name == "restores":
                yield from ((clear, at) for at in places if len(places) == 1)
        for at, facts in enumerate(self.way):
            if facts.hands >= OPEN and self._restores_after(at):
                yield at, clear

    def _service(self) -> Iterator[tuple[int, int]]:
        if self.way[-1].exit != "service":
            return
        hands = [at for at, f in enumerate(self.way) if f.hands >= OPEN]
        for test in self._only_tests():
            yield from ((at, test) for at in hands)
            for source in bits(self.way[test].runs):
                back = self.once("restores", source)
                cut = self.once("isolates", source)
                if back is not None and cut is not None and any(source in self.levels[at] for at in hands):
                    yield back, test

    def _only_tests(self) -> list[int]:
        """Places of the tests that no other step of the way does too."""
        done = [self.way[at].tests for at in self.tests]
        return [
            at for at, mine in zip(self.tests, done, strict=True) if all(m is mine or not m & mine for m in done)
        ] if len(set(done)) == len(done) else []  # fmt: skip
