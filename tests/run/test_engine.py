"""What a run says of the energy is what the brute-force judge of the check says of the same way through.

The judge (`tests/energy`) shares no code with the engine of the check, and none with this one.
"""

from __future__ import annotations

import random
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from tests.energy.adapter import read_case
from tests.energy.from_document import PREFIX, from_document
from tests.energy.generate import cases
from tests.energy.markdown import to_markdown
from tests.energy.plan import compile_spec
from tests.energy.reading import SAFEST
from tests.energy.spec import Spec
from tests.energy.walk import Walk
from tests.energy.world import World
from tests.run.frame import call, modules

from kilter.check.flow import analyse
from kilter.publish.prepare import prepare
from kilter.publish.run.plan import plan_of
from kilter.publish.view import DocumentView, view_of

pytestmark = pytest.mark.browser
ROOT = Path(__file__).parents[2] / "procedures"
BEGIN = datetime(2026, 11, 28, 8, 0, tzinfo=UTC)
LEVELS = "(m, {plan, runs}) => runs.map((entries) => entries.map((_, n) => { const s = m.fold(plan, entries.slice(0, n + 1)); return {at: s.at, levels: plan.sources.map((x) => s.sources[x.name].level), held: s.held, off: s.guardsOff, clear: s.clear, exit: s.exit, calls: s.calls}; }))"


def anchors(view: DocumentView) -> dict[str, str]:
    """The judge's names of steps to those of the page."""
    found = {}
    for stage in view.stages:
        for step in stage.steps:
            own = stage.owner is view.document
            found[step.step.slug if own else PREFIX + step.step.slug] = step.anchor
    return found


class Way:
    """A random way through, as the judge walks it, and the entries that a run would hold."""

    def __init__(self, spec: Spec, view: DocumentView, rng: random.Random, most: int = 60) -> None:
        self.plan, self.rng, self.names = compile_spec(spec), rng, anchors(view)
        self.entries: list[dict[str, str]] = []
        self.states: list[dict[str, object]] = []
        self.now = BEGIN
        self.walk(most)

    def add(self, kind: str, step: str, world: World | None, **more: str) -> None:
        entry = {
            "n": str(len(self.entries) + 1),
            "at": self.now.isoformat(),
            "kind": kind,
            "step": self.names[step],
            "number": "1.1",
            **more,
        }
        self.entries.append(entry)
        self.states.append({} if world is None else self.told(world))

    def told(self, world: World) -> dict[str, object]:
        sources = [s.name for s in self.plan.spec.profile.sources]
        guards = self.plan.spec.profile.guards
        return {
            "levels": world.lv,
            "held": [n for n, held in zip(sources, world.held, strict=True) if held],
            "off": [g for n, g in enumerate(guards) if world.off >> n & 1],
        }

    def walk(self, most: int) -> None:
        walk = Walk(self.plan, SAFEST)
        main = [n for n, stage in enumerate(self.plan.spec.stages) if not stage.shared]
        position, world = ((), self.plan.first[main[0]]), World(self.plan)
        while len(self.entries) < most:
            node = self.plan.nodes[position[1]]
            ways = list(walk.visit(position, world))
            for least, _ in node.waits:
                self.now += timedelta(seconds=least)
                self.add("wait", node.step.slug, None, index="0", wanted=str(least), waited=str(least))
            if not ways:
                self.add("done", node.step.slug, None)
                return
            choice = self.rng.randrange(len(ways))
            position, world = ways[choice]
            if node.step.answers and not node.step.do:
                self.add("answer", node.step.slug, world, index=str(choice), text="", failed="", notOk="")
            else:
                self.add("done", node.step.slug, world)


def compared(page, view: DocumentView, spec: Spec, rng: random.Random, ways: int) -> int:
    """How many states were compared; the first that differs is told with the way to it."""
    plan = plan_of(view)
    found = [Way(spec, view, rng) for _ in range(ways)]
    runs = call(page, "engine.js", LEVELS, {"plan": plan, "runs": [way.entries for way in found]})
    count = 0
    for way, states in zip(found, runs, strict=True):
        for n, (wanted, got) in enumerate(zip(way.states, states, strict=True)):
            for key, value in wanted.items():
                said = sorted(got[key]) if key != "levels" else got[key]
                assert said == (sorted(value) if key != "levels" else value), (
                    view.number,
                    key,
                    way.entries[: n + 1],
                )
                count += 1
    return count


def test_every_demo_document_on_random_ways():
    ready = prepare(ROOT)
    assert len(ready.views) >= 8
    with modules() as page:
        for view in ready.views:
            spec = from_document(view.document, view.profile)
            assert compared(page, view, spec, random.Random(7), 60) > 300


def test_random_documents_on_random_ways():
    """Also those that the check refuses: what a run knows must not hang on the procedure being sound."""
    count = 0
    with modules() as page:
        for _, seed, spec in cases(160, 11):
            library, profile, procedure = read_case(*to_markdown(spec))
            states = analyse(procedure, profile)
            if states.graph is None or states.graph.unresolved or states.graph.recursive:
                continue
            ranges = any(least != most for n in compile_spec(spec).nodes for least, most in n.waits)
            if ranges and any(s.reaccumulates not in (True, False) for s in spec.profile.sources):
                continue  # the judge takes both ends of a range at once; a run knows how long it was
            view = view_of(library, procedure, states, "0" * 64)
            count += compared(page, view, from_document(procedure, profile), random.Random(seed), 6)
    assert count > 10_000


def test_the_comparison_sees_an_engine_that_forgets():
    """Seeded faults in the module are noticed."""
    ready = prepare(ROOT)
    view = next(v for v in ready.views if v.number == "STR-110")
    spec, plan = from_document(view.document, view.profile), plan_of(view)
    faults = {
        "drains slower": lambda s: s.update(bleed=2 * s["bleed"]) if s["bleed"] else None,
        "no feeds": lambda s: s.update(feeds=[]),
        "falls no deeper than charged": lambda s: s.update(entry="charged"),
        "lands dead": lambda s: s.update(landing="dead"),
    }
    with modules() as page:
        for name, fault in faults.items():
            broken = {**plan, "sources": [dict(s) for s in plan["sources"]]}
            for source in broken["sources"]:
                fault(source)
            ways = [Way(spec, view, random.Random(n)) for n in range(60)]
            runs = call(page, "engine.js", LEVELS, {"plan": broken, "runs": [w.entries for w in ways]})
            differ = sum(
                wanted["levels"] != got["levels"]
                for way, states in zip(ways, runs, strict=True)
                for wanted, got in zip(way.states, states, strict=True)
                if wanted
            )
            assert differ, name
