"""Why a change that the checker and the oracle let pass is harmless, told from the two cases by asking the oracle again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from .edit import set_step
from .oracle import violations
from .plan import OPEN, Node, compile_spec
from .spec import Effect, Panel, Spec, Stage, Step

Part = Step | Stage


def parts(spec: Spec) -> Iterator[Part]:
    """Every stage and every step."""
    for stage in spec.stages:
        yield stage
        yield from stage.steps


def part(spec: Spec, slug: str, in_stage: bool) -> Part | None:
    """A stage or a step by its name."""
    sort = Stage if in_stage else Step
    return next((p for p in parts(spec) if isinstance(p, sort) and p.slug == slug), None)


def with_panels(spec: Spec, at: Part, panels: Iterable[Panel]) -> Spec:
    """Other panels at a stage or a step."""
    new = tuple(panels)
    if isinstance(at, Step):
        return set_step(spec, at.slug, replace(at, panels=new))
    return replace(
        spec, stages=tuple(replace(s, panels=new) if s.slug == at.slug else s for s in spec.stages)
    )


def lost(before: tuple[Panel, ...], after: tuple[Panel, ...]) -> list[Panel]:
    """Panels that are not there any more, or not as they were."""
    left = list(after)
    return [p for p in before if p not in left or left.remove(p)]  # type: ignore[func-returns-value]


def lost_effects(before: Step, after: Step | None) -> list[Effect]:
    """Effects that are not there any more, or not as they were."""
    left = list(after.effects) if after else []
    return [e for e in before.effects if e not in left or left.remove(e)]  # type: ignore[func-returns-value]


def made_up_by(before: Spec, after: Spec, at: Part) -> str | None:
    """The place of another panel without which the change would be refused, and for whose lack the original is not."""
    for other in parts(before):
        twin = part(after, other.slug, isinstance(other, Stage))
        for panel in other.panels:
            if (other.slug == at.slug and panel in at.panels) or twin is None or panel not in twin.panels:
                continue
            one = with_panels(before, other, [p for p in other.panels if p is not panel])
            two = with_panels(after, twin, [p for p in twin.panels if p != panel])
            if violations(two) - violations(one):
                return other.slug
    return None


def nodes(spec: Spec) -> dict[str, Node]:
    """Steps worked out."""
    return {node.step.slug: node for node in compile_spec(spec).nodes}


def exposed(spec: Spec, slugs: Iterable[str], sources: Iterable[str]) -> list[str]:
    """Steps of these that put hands where one of the sources counts."""
    plan = compile_spec(spec)
    wanted = {n for n, s in enumerate(plan.sources) if s.name in set(sources)}
    known = {node.step.slug: node for node in plan.nodes}
    return [s for s in slugs if s in known and known[s].hands >= OPEN and not known[s].step.do
            and wanted & set(known[s].uncleared)]  # fmt: skip
