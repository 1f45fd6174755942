"""The honesty rules that a generated case can break by a mutation; they never change what the oracle accepts.

Kinds: guards-on (inside or probe with every guard on; found by the walk, only where the profile has guards), idle (an
exemption needed on no way in), hands-low (hands lower than the effect's), own-clear (clear-of a source the step acts on),
no-failing-answer, one-answer, live-no-reason (energised work without saying why), restore-mixed (restores with clearing, testing or a decision), restore-feeds (a source and
its feed restored in one step).
"""

from __future__ import annotations

from collections.abc import Iterator

from .plan import LIVE, Node, Plan, outside_hands
from .reading import Violation
from .spec import ACTS

Exemptions = set[tuple[str, str, int]]
"""(slug of step or stage, `clear` or `live`, source) that some way in needs."""


def plain(plan: Plan) -> set[Violation]:
    """What can be seen without walking."""
    return {(node.step.slug, kind, None) for node in plan.nodes for kind in _node(plan, node)}


def _node(plan: Plan, node: Node) -> Iterator[str]:
    step, effects = node.step, node.effects
    if (
        node.written is not None
        and step.effects
        and node.written < outside_hands(plan.spec.profile, step.effects)
    ):
        yield "hands-low"
    names = {n for e in step.effects if e.kind in ACTS for n in e.names}
    if names & set(step.clear_of):
        yield "own-clear"
    if len(step.answers) == 1:
        yield "one-answer"
    if node.hands == LIVE and not node.reason:
        yield "live-no-reason"
    if "restores" in effects and (step.answers or "tests" in effects or "all-clear" in effects):
        yield "restore-mixed"
    restored = effects.get("restores", ())
    if any(m in plan.sources[n].fed for n in restored for m in restored):
        yield "restore-feeds"
    if not _can_fail(node):
        yield "no-failing-answer"


def _can_fail(node: Node) -> bool:
    """Every proof and every test has an answer for its failing."""
    failing = {n for marks in node.marks if marks is not None for n in marks}
    tests = any(e.kind == "tests" for e in node.step.effects)
    return set(node.effects.get("proves", ())) <= failing and (
        not tests or any(a.not_ok for a in node.step.answers)
    )


def on_the_way(plan: Plan, needed: Exemptions, reached: set[int]) -> set[Violation]:
    """Exemptions that no way in needs."""
    idle: set[Violation] = set()
    numbers = {s.name: n for n, s in enumerate(plan.sources)}
    for node in [plan.nodes[i] for i in reached]:
        stage = plan.spec.stages[node.stage]
        for holder, names in ((node.step.slug, node.step.clear_of), (stage.slug, stage.clear_of)):
            idle |= {(holder, "idle", n) for n in names if (holder, "clear", numbers[n]) not in needed}
        idle |= {
            (node.step.slug, "idle", plan.sources[n].name)
            for n in node.named
            if (node.step.slug, "live", n) not in needed
        }
    return idle
