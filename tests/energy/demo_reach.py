"""The steps of an abstract case and where they lead, without their states."""

from __future__ import annotations

from itertools import pairwise

from .spec import Spec, Stage, Step


def whole(spec: Spec) -> bool:
    """Every link, shared stage and zone is there, and there is a main line."""
    slugs = [s.slug for s in spec.steps()]
    blocks = {s.slug for s in spec.stages if s.shared}
    zones = {name for name, _ in spec.profile.zones}
    wanted = {a.target for s in spec.steps() for a in s.answers} | {s.goto for s in spec.steps() if s.goto}
    asked = {s.do for s in spec.steps() if s.do}
    parts: list[Stage | Step] = [*spec.stages, *spec.steps()]
    named = {part.zone for part in parts if part.zone}
    fits = wanted <= {*slugs, "back"} and asked <= blocks and named <= zones and len(set(slugs)) == len(slugs)
    return fits and any(not s.shared for s in spec.stages)


def reach(spec: Spec, starts: set[str]) -> set[str]:
    """Steps on any way from some steps, where a shared stage may return to each that asks for it."""
    edges = _edges(spec)
    todo, seen = [s for s in starts if s in edges], set(starts)
    while todo:
        for to in edges.get(todo.pop(), ()):
            if to not in seen:
                seen.add(to)
                todo.append(to)
    return seen


def _edges(spec: Spec) -> dict[str, set[str]]:
    """Where each step leads."""
    main = [(stage, s) for stage in spec.stages if not stage.shared for s in stage.steps]
    lines = [main, *([(stage, s) for s in stage.steps] for stage in spec.stages if stage.shared)]
    follow = {a[1].slug: b[1].slug for line in lines for a, b in pairwise(line)}
    first = {stage.slug: stage.steps[0].slug for stage in spec.stages}
    back = {stage.slug: {s.goto or follow.get(s.slug, s.slug) for s in spec.steps() if s.do == stage.slug}
            for stage in spec.stages}  # fmt: skip
    return {s.slug: _next(stage, s, follow, first, back) for line in lines for stage, s in line}


def _next(
    stage: Stage, step: Step, follow: dict[str, str], first: dict[str, str], back: dict[str, set[str]]
) -> set[str]:
    if step.exit:
        return set()
    if step.do:
        return {first[step.do]} if step.do in first else set()
    after = follow.get(step.slug)
    wanted = [a.target for a in step.answers] or [step.goto or after or "back"]
    found = {target for target in wanted if target != "back"}
    return found | back[stage.slug] if "back" in wanted else found
