"""From a document and its profile to the step graph."""

from __future__ import annotations

from kilter.check.flow.facts import Facts, after_of, facts_of
from kilter.check.flow.graph import MOST_NODES, Call, Crossing, Edge, Graph, Kind
from kilter.check.flow.machine import Machine
from kilter.check.flow.places import place_of
from kilter.model.base import slugify
from kilter.model.document import Answer, Document, Stage


class Builder:
    """Walks from the first step over every way on, and numbers what it meets."""

    def __init__(self, machine: Machine, document: Document, profile: Document) -> None:
        self.machine, self.document, self.profile = machine, document, profile
        shared = {**document.shared_stages, **profile.shared_stages, **document.shared_stages}
        self.graph = Graph(shared=tuple(shared.values()))
        self._places: dict[int, int] = {}
        self._facts: dict[int, int] = {}
        self._after: dict[int, int] = {}
        self._next: dict[int, tuple[Stage, int] | None] = {}
        self._homes: dict[int, dict[str, tuple[Stage, int]]] = {}
        self._nodes: dict[tuple[int, tuple[Call, ...]], int] = {}
        self._crossings: dict[Crossing, int] = {}
        self._todo: list[int] = []
        self._order(document)

    def build(self) -> Graph:
        first = next(((s, 0) for s in self.document.stages if not s.shared and s.steps), None)
        if first is not None:
            self._node(self.step_facts(self.document, *first), ())
            for node in self._todo:
                if len(self.graph.node_facts) > MOST_NODES:
                    self.graph.too_large = True
                    break
                self._expand(node)
        self.graph.links = [[(e.to, e.crossing) for e in out] for out in self.graph.edges]
        return self.graph

    def _order(self, document: Document) -> None:
        """Where each slug stands, and what follows each step in document order."""
        homes: dict[str, tuple[Stage, int]] = {}
        before: int | None = None
        for stage in document.stages:
            for n, step in enumerate(stage.steps):
                homes.setdefault(step.slug, (stage, n))
                if stage.shared:
                    self._next[id(step)] = (stage, n + 1) if n + 1 < len(stage.steps) else None
                    continue
                self._next[id(step)] = None
                if before is not None:
                    self._next[before] = (stage, n)
                before = id(step)
        self._homes[id(document)] = homes

    def every_facts(self) -> list[Facts]:
        """Facts of all steps of the document, reached or not, and of those of the profile that were reached."""
        for stage in self.document.stages:
            for at in range(len(stage.steps)):
                self.step_facts(self.document, stage, at)
        return [f for f in self.graph.facts if not f.after]

    def place(self, document: Document, stage: Stage) -> int:
        found = self._places.get(id(stage))
        if found is None:
            in_profile = document is not self.document
            found = self._places[id(stage)] = len(self.graph.places)
            self.graph.places.append(place_of(self.machine, document, stage, in_profile))
        return found

    def step_facts(self, document: Document, stage: Stage, at: int) -> int:
        step = stage.steps[at]
        found = self._facts.get(id(step))
        if found is None:
            place = self.graph.places[self.place(document, stage)]
            key = f"{document.key}:{step.slug}" if place.in_profile else step.slug
            found = self._facts[id(step)] = len(self.graph.facts)
            facts = facts_of(self.machine, place, step, key)
            self.graph.facts.append(facts)
            if facts.calls is not None:
                self._after[found] = len(self.graph.facts)
                self.graph.facts.append(after_of(facts))
        return found

    def _node(self, facts: int, calls: tuple[Call, ...]) -> int:
        found = self._nodes.get((facts, calls))
        if found is None:
            found = self._nodes[facts, calls] = len(self.graph.node_facts)
            self.graph.node_facts.append(facts)
            self.graph.node_calls.append(calls)
            self.graph.edges.append([])
            self.graph.depth = max(self.graph.depth, len(calls))
            self._todo.append(found)
        return found

    def _expand(self, node: int) -> None:
        at = self.graph.node_facts[node]
        facts = self.graph.facts[at]
        if facts.calls is not None:
            self._call(node, at, facts)
        elif facts.exit is None and facts.step.field("exit") is None:
            self._ways_on(node, facts)

    def _call(self, node: int, at: int, facts: Facts) -> None:
        calls = self.graph.node_calls[node]
        found = self._shared(facts)
        if found is None:
            self.graph.unresolved.add(at)
            return
        document, stage = found
        if stage is facts.place.stage or any(self.graph.places[c[1]].stage is stage for c in calls):
            if not any(r[0] == at for r in self.graph.recursive):
                self.graph.recursive.append((at, stage.title))
            return
        after = self._after[at]
        if not stage.steps:
            self._edge(node, self._node(after, calls), Crossing(Kind.SAME, -1))
            return
        place = self.place(document, stage)
        to = self._node(self.step_facts(document, stage, 0), (*calls, (after, place, at)))
        self._edge(node, to, Crossing(Kind.CALL, place))

    def _shared(self, facts: Facts) -> tuple[Document, Stage] | None:
        name = (facts.calls or "").strip().removeprefix("#")
        own = facts.place.document
        for document in (own, self.profile) if own is not self.profile else (own,):
            stage = document.shared_stages.get(name) or document.shared_stages.get(slugify(name))
            if stage is not None:
                if id(document) not in self._homes:
                    self._order(document)
                return document, stage
        return None

    def _ways_on(self, node: int, facts: Facts) -> None:
        step = facts.step
        jump = step.field("go-to")
        for answer in step.answers:
            self._link(node, facts, answer.target, answer)
        if jump is not None:
            self._link(node, facts, jump.value.strip().removeprefix("#"), None)
        if step.answers or jump is not None:
            return
        follows = self._next[id(step)]
        if follows is not None:
            self._go(node, facts, *follows, None, False)
        elif facts.place.stage.shared:
            self._back(node, facts, None)

    def _link(self, node: int, facts: Facts, target: str, answer: Answer | None) -> None:
        homes = self._homes[id(facts.place.document)]
        found = homes.get(target) or homes.get(slugify(target))
        if target == "back" and facts.place.stage.shared:
            self._back(node, facts, answer)
        elif found is None or (found[0].shared and found[0] is not facts.place.stage):
            self.graph.unresolved.add(self.graph.node_facts[node])
        else:
            self._go(node, facts, *found, answer, answer is None)

    def _go(self, node: int, facts: Facts, stage: Stage, at: int, answer: Answer | None, jump: bool) -> None:
        calls, document = self.graph.node_calls[node], facts.place.document
        to = self.step_facts(document, stage, at)
        if stage is facts.place.stage:
            crossing = self._failing(facts, answer, Kind.SAME, -1)
            self._edge(node, self._node(to, calls), crossing, answer, jump)
            return
        if calls and self.graph.facts[calls[0][2]].place.stage is stage:
            crossing = self._failing(facts, answer, Kind.LEAVE, len(calls))
        else:
            crossing = self._failing(facts, answer, Kind.STAGE, self.place(document, stage))
        self._edge(node, self._node(to, ()), crossing, answer, jump)

    def _back(self, node: int, facts: Facts, answer: Answer | None) -> None:
        calls = self.graph.node_calls[node]
        if not calls:
            self.graph.unresolved.add(self.graph.node_facts[node])
            return
        to = self._node(calls[-1][0], calls[:-1])
        self._edge(node, to, self._failing(facts, answer, Kind.BACK, -1), answer)

    def _failing(self, facts: Facts, answer: Answer | None, kind: Kind, place: int) -> Crossing:
        failure = answer.failure if answer else None
        if failure is None:
            return Crossing(kind, place)
        if failure.mark == "not-ok":
            return Crossing(kind, place, untested=facts.tests)
        if failure.sources:
            failed = self.machine.mask(n.text for n in failure.sources)
        else:
            failed = facts.proves or self.machine.all
        return Crossing(
            kind, place, failed=failed, undone=(facts.handled | facts.restores | facts.loads) & ~failed
        )

    def _edge(
        self, node: int, to: int, crossing: Crossing, answer: Answer | None = None, jump: bool = False
    ) -> None:
        number = self._crossings.get(crossing)
        if number is None:
            number = self._crossings[crossing] = len(self.graph.crossings)
            self.graph.crossings.append(crossing)
        self.graph.edges[node].append(Edge(to, number, answer, jump))
