"""From a view and its analysis to the table of states."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.check.flow import Analysis
from kilter.check.flow.ways import plain_hops, shortest
from kilter.diagnostic import Hop
from kilter.model.base import fold
from kilter.model.text import Role
from kilter.publish.states.data import VERSION, Link, Origin, StageLine, States, StepLine, Stop, Unmet
from kilter.publish.states.sources import SourceTable
from kilter.publish.view import EXITS, DocumentView, StepView, hands_reason

MOST_STOPS = 40
VALUES = ("torque", "set", "read")


def states_of(view: DocumentView, analysis: Analysis, errors: int = 0, only: str = "") -> States:
    """The table of a document; with `only`, the key of one step, that step with every stop of its way."""
    return _Table(view, analysis).table(errors, only)


class _Table:
    def __init__(self, view: DocumentView, analysis: Analysis) -> None:
        self.view, self.analysis = view, analysis
        steps = [s for stage in view.stages for s in stage.steps]
        self.number = {s.key: s.number for s in steps}
        self.calling = {s.number for s in steps if s.do}
        self.place = {(s.step.heading_span.path, s.step.heading_span.line): s.number for s in steps}
        self.sources = SourceTable(analysis, view.equipment, lambda way: shortened(self.stops(way)))
        self.nodes = self._nodes()

    def _nodes(self) -> dict[str, set[int]]:
        found: dict[str, set[int]] = {}
        for node in self.analysis.nodes:
            if not node.after:
                found.setdefault(node.key, set()).add(node.number)
        return found

    def table(self, errors: int, only: str) -> States:
        view = self.view
        stages = (
            StageLine(
                number=stage.number,
                title=stage.stage.title,
                shared=stage.stage.shared,
                steps=tuple(self.step(s, bool(only)) for s in stage.steps if only in ("", s.key)),
            )
            for stage in view.stages
        )
        return States(
            version=VERSION,
            path=view.document.path,
            number=view.number,
            revision=view.front.revision,
            title=view.front.title,
            equipment=view.equipment.title,
            errors=errors,
            proved=bool(self.analysis.runs),
            stages=tuple(s for s in stages if s.steps or not only),
            links=tuple(link for link in self.links() if only in ("", *self._keys(link))),
        )

    def _keys(self, link: Link) -> tuple[str, ...]:
        return tuple(key for key, number in self.number.items() if number in (link.start, link.to))

    def step(self, view: StepView, every: bool) -> StepLine:
        state = self.analysis.before.get(view.key)
        return StepLine(
            number=view.number,
            key=view.key,
            anchor=view.anchor,
            title=view.step.title,
            hands=view.hands,
            hands_reason=hands_reason(view.step),
            exit=EXITS.get(fold(view.exit), view.exit),
            does=view.do_label.split(" ", 1)[0],
            reached=view.key in self.nodes,
            sources=self.sources.lines(view.key, self.nodes.get(view.key, set())),
            guards_off=state.guards_off if state else (),
            unmet=self._unmet(view.key),
            way=self._way(view.key, every),
            origins=_origin(view),
        )

    def _unmet(self, key: str) -> tuple[Unmet, ...]:
        found = sorted((rule, source) for step, rule, source in self.analysis.unmet if step == key)
        return tuple(Unmet(rule=rule, source=source) for rule, source in found)

    def _way(self, key: str, every: bool) -> tuple[Stop, ...]:
        graph = self.analysis.graph
        wanted = self.nodes.get(key)
        nodes = shortest(graph, wanted) if wanted else None
        way = self.stops(plain_hops(graph, nodes)) if nodes else ()
        if every:
            return way
        last = len(way) - 1
        telling = (
            stop for n, stop in enumerate(way) if n in (0, last) or stop.answer or stop.number in self.calling
        )
        return shortened(tuple(telling))

    def stops(self, way: Iterable[Hop]) -> tuple[Stop, ...]:
        return tuple(
            Stop(
                number=self.place.get((h.span.path, h.span.line), "") if h.span else "",
                title=h.step,
                answer=h.answer,
            )
            for h in way
        )

    def links(self) -> Iterable[Link]:
        nodes = self.analysis.nodes
        found = (
            Link(
                start=self.number.get(nodes[e.start].key, ""),
                to=self.number.get(nodes[e.to].key, ""),
                answer=e.answer.rstrip(": "),
                failed=e.failed,
                kind=e.kind,
            )
            for e in self.analysis.edges
        )
        return dict.fromkeys(found)


def shortened(way: tuple[Stop, ...]) -> tuple[Stop, ...]:
    """The two ends of a very long way: a thousand decisions in a row would otherwise make a million stops."""
    left_out = len(way) - MOST_STOPS
    if left_out <= 0:
        return way
    half = MOST_STOPS // 2
    between = Stop(number="", title=f"({left_out} more answers and stages)", answer="")
    return (*way[:half], between, *way[-half:])


def _origin(view: StepView) -> Origin | None:
    roles = [r for r in view.step.roles if isinstance(r, Role) and r.name in VALUES]
    if not roles:
        return None
    return Origin(values=tuple(f"{r.name} {r.text}" for r in roles), origin=view.origin)
