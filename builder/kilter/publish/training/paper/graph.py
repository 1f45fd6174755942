"""A document as a maze: every step in every call, and every way from one to the next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from kilter.publish.training.paper.cover import Cover, Maze, fewest_ways
from kilter.publish.training.paper.flow import Edge
from kilter.publish.view import DocumentView, StageView, StepView

MOST_CALLS = 8
"""Shared stages inside one another; the check refuses a stage that asks for itself."""
Call = tuple[str, ...]
"""Anchors of the steps that asked for a shared stage, the outermost first."""


@dataclass(frozen=True)
class Turn:
    """A step on a way, and which of its answers leads on; None where it has none or the work ends there."""

    stage: StageView
    step: StepView
    answer: int | None


@dataclass(frozen=True)
class Way:
    """One way through a document, from its first step to an end."""

    turns: tuple[Turn, ...]

    @property
    def last(self) -> StepView:
        return self.turns[-1].step

    @property
    def in_service(self) -> bool:
        return self.last.exit.casefold() == "returned to service"


@dataclass(frozen=True)
class Ways:
    """The fewest ways that see every answer, the chosen one first."""

    ways: tuple[Way, ...]
    proved: bool
    """Whether it is proved that fewer don't do."""


@dataclass
class _Walk:
    view: DocumentView
    places: dict[tuple[str, Call], int] = field(default_factory=dict)
    edges: list[tuple[int, int, int | None]] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        stages = self.view.stages
        self.at = {step.anchor: (stage, step) for stage in stages for step in stage.steps}
        self.stage = {stage.anchor: stage for stage in stages}
        self.first = next((s.steps[0].anchor for s in stages if not s.stage.shared and s.steps), "")

    def run(self) -> None:
        queue = [(self.first, Call())] if self.first else []
        self.places.update({place: n for n, place in enumerate(queue)})
        for place in queue:
            here = self.places[place]
            ways = list(self._on(*place))
            if not ways:
                self.ends.append(here)
            for answer, to in ways:
                if to not in self.places:
                    self.places[to] = len(self.places)
                    queue.append(to)
                self.edges.append((here, self.places[to], answer))

    def _on(self, anchor: str, call: Call) -> Iterator[tuple[int | None, tuple[str, Call]]]:
        stage, step = self.at[anchor]
        if step.exit:
            return
        if step.answers:
            for answer in step.answers:
                found = self._back(call) if answer.back else self._at(answer.target, stage, call)
                yield from ((answer.index, found) for _ in (0,) if found)
        elif step.do in self.stage and self.stage[step.do].steps and len(call) < MOST_CALLS:
            yield None, (self.stage[step.do].steps[0].anchor, (*call, anchor))
        elif found := self._after(anchor, call):
            yield None, found

    def _after(self, anchor: str, call: Call) -> tuple[str, Call] | None:
        """Where it goes on after a step without answers."""
        stage, step = self.at[anchor]
        if step.go_to:
            return self._at(step.go_to, stage, call)
        n = stage.steps.index(step)
        if n + 1 < len(stage.steps):
            return stage.steps[n + 1].anchor, call
        if stage.stage.shared:
            return self._back(call)
        later = self.view.stages[self.view.stages.index(stage) + 1 :]
        return next(((s.steps[0].anchor, call) for s in later if not s.stage.shared and s.steps), None)

    def _back(self, call: Call) -> tuple[str, Call] | None:
        return self._after(call[-1], call[:-1]) if call else None

    def _at(self, target: str, stage: StageView, call: Call) -> tuple[str, Call] | None:
        """A step that is named: out of a shared stage every call ends that the target doesn't stand in."""
        if target not in self.at:
            return None
        aim = self.at[target][0]
        if aim is stage:
            return target, call
        inside = [n for n, asked in enumerate(call) if self.at[asked][1].do == aim.anchor]
        return target, call[: inside[-1] + 1] if inside else ()


def ways_of(view: DocumentView) -> Ways:
    """The fewest ways through a document that see each of its answers once; none where it has no step."""
    walk = _Walk(view)
    walk.run()
    if not walk.places:
        return Ways((), proved=True)
    cover, names = _cover(walk)
    ways = [Way(tuple(_turns(walk, names, edges))) for edges in cover.ways]
    ways.sort(key=lambda way: (not way.in_service, -len({t.step.anchor for t in way.turns})))
    return Ways(tuple(ways), cover.proved)


def _cover(walk: _Walk) -> tuple[Cover, dict[Edge, tuple[int, int | None]]]:
    """The fewest ways, and for each edge its step and answer; a step from which nothing ends is left out."""
    end = len(walk.places)
    raw = [*walk.edges, *((n, end, None) for n in walk.ends)]
    reached = {end}
    while more := {tail for tail, head, _ in raw if head in reached} - reached:
        reached |= more
    names = {(t, h, n): (t, a) for n, (t, h, a) in enumerate(raw) if {t, h} <= reached}
    anchor = {n: place[0] for place, n in walk.places.items()}
    branches: dict[tuple[str, int], list[Edge]] = {}
    for edge, (tail, answer) in names.items():
        if answer is not None:
            branches.setdefault((anchor[tail], answer), []).append(edge)
    return fewest_ways(Maze(tuple(names), 0, end), list(branches.values())), names


def _turns(walk: _Walk, names: dict[Edge, tuple[int, int | None]], edges: tuple[Edge, ...]) -> Iterator[Turn]:
    anchors = {n: place[0] for place, n in walk.places.items()}
    for edge in edges:
        tail, answer = names[edge]
        stage, step = walk.at[anchors[tail]]
        yield Turn(stage, step, answer)
