"""Small changes to a case: what a tired author, or an editor months later, does to a sound procedure."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from .edit import pick, set_stage, set_step, without
from .mutate_frame import FRAME
from .spec import ACTS, Answer, Effect, Spec, well_formed

Change = Callable[[random.Random, Spec], Spec]


def mutate(rng: random.Random, spec: Spec) -> Spec:
    """One change that leaves the case writable; the case itself when twenty tries found none."""
    for _ in range(20):
        changed = rng.choice(CHANGES)(rng, spec)
        if changed != spec and well_formed(changed):
            return changed
    return spec


def drop_effect(rng: random.Random, spec: Spec) -> Spec:
    """An effect, or one source of it, is forgotten."""
    step = pick(rng, spec, lambda s: s.effects)
    if step is None:
        return spec
    n = rng.randrange(len(step.effects))
    old = step.effects[n]
    less: tuple[Effect, ...] = ()
    if len(old.names) > 1 and rng.random() < 0.6:
        gone = rng.choice(old.names)
        less = (replace(old, names=tuple(x for x in old.names if x != gone)),)
    effects = (*step.effects[:n], *less, *step.effects[n + 1 :])
    return set_step(spec, step.slug, replace(step, effects=effects, answers=_fit(step.answers, effects)))


def _fit(answers: tuple[Answer, ...], effects: tuple[Effect, ...]) -> tuple[Answer, ...]:
    """Answers without marks that nothing stands behind."""
    proved = {n for e in effects if e.kind == "proves" for n in e.names}
    tested = any(e.kind == "tests" for e in effects)
    return tuple(replace(a, not_ok=a.not_ok and tested, not_zero=_left(a.not_zero, proved)) for a in answers)


def _left(names: tuple[str, ...] | None, proved: set[str]) -> tuple[str, ...] | None:
    if not names:
        return names if proved else None
    return tuple(n for n in names if n in proved) or None


def move_effect(rng: random.Random, spec: Spec) -> Spec:
    """An effect stands in another step."""
    step, other = pick(rng, spec, lambda s: s.effects), pick(rng, spec, lambda s: not s.do)
    if step is None or other is None or step is other:
        return spec
    effect = rng.choice(step.effects)
    rest = tuple(e for e in step.effects if e is not effect)
    spec = set_step(spec, step.slug, replace(step, effects=rest, answers=_fit(step.answers, rest)))
    return set_step(spec, other.slug, replace(other, effects=(*other.effects, effect)))


def add_effect(rng: random.Random, spec: Spec) -> Spec:
    """An effect too many."""
    step = pick(rng, spec, lambda s: not s.do)
    if step is None:
        return spec
    return set_step(spec, step.slug, replace(step, effects=(*step.effects, any_effect(rng, spec))))


def any_effect(rng: random.Random, spec: Spec) -> Effect:
    """A random effect that suits the profile."""
    kinds = [*ACTS, "wait", "all-clear", "tests", *(("removes", "refits") if spec.profile.guards else ())]
    kind = rng.choice(kinds)
    if kind == "wait":
        return Effect(kind, (), rng.choice((60, 120, 300)), rng.choice((0, 0, 600)))
    if kind == "tests":
        return Effect(kind, (rng.choice((*spec.profile.before_service, "function")),))
    if kind in ("removes", "refits"):
        return Effect(kind, (rng.choice(spec.profile.guards),))
    if kind == "all-clear":
        return Effect(kind)
    fit = [s.name for s in spec.profile.sources if s.isolate or kind not in ("isolates", "restores")]
    return Effect(kind, (rng.choice(fit),)) if fit else Effect("all-clear")


def drop_step(rng: random.Random, spec: Spec) -> Spec:
    """A step is left out; links to it go to the next one."""
    steps = spec.steps()
    n = rng.randrange(len(steps))
    return without(spec, steps[n].slug, steps[(n + 1) % len(steps)].slug)


def swap_steps(rng: random.Random, spec: Spec) -> Spec:
    """Two steps of one stage in the wrong order."""
    n = rng.randrange(len(spec.stages))
    steps = list(spec.stages[n].steps)
    if len(steps) < 2:
        return spec
    k = rng.randrange(len(steps) - 1)
    steps[k], steps[k + 1] = steps[k + 1], steps[k]
    return set_stage(spec, n, replace(spec.stages[n], steps=tuple(steps)))


def retarget(rng: random.Random, spec: Spec) -> Spec:
    """An answer or a jump leads to another step."""
    step, target = pick(rng, spec, lambda s: s.answers or s.goto), pick(rng, spec)
    if step is None or target is None:
        return spec
    if step.goto:
        return set_step(spec, step.slug, replace(step, goto=target.slug))
    n = rng.randrange(len(step.answers))
    answer = replace(step.answers[n], target=target.slug)
    return set_step(
        spec, step.slug, replace(step, answers=(*step.answers[:n], answer, *step.answers[n + 1 :]))
    )


def unmark(rng: random.Random, spec: Spec) -> Spec:
    """A failing mark is forgotten, or names one source where it meant all."""
    step = pick(rng, spec, lambda s: any(a.not_zero is not None or a.not_ok for a in s.answers))
    if step is None:
        return spec
    proved = [n for e in step.effects if e.kind == "proves" for n in e.names]
    mark = (rng.choice(proved),) if proved and rng.random() < 0.5 else None
    n = rng.choice([n for n, a in enumerate(step.answers) if a.not_zero is not None or a.not_ok])
    answer = replace(step.answers[n], not_zero=mark, not_ok=False)
    return set_step(
        spec, step.slug, replace(step, answers=(*step.answers[:n], answer, *step.answers[n + 1 :]))
    )


def jump(rng: random.Random, spec: Spec) -> Spec:
    """A jump too many, or a second way out of a step that had one."""
    step, target = pick(rng, spec, lambda s: not (s.do or s.exit or s.goto)), pick(rng, spec)
    if step is None or target is None:
        return spec
    if step.answers:
        return set_step(spec, step.slug, replace(step, answers=(*step.answers, Answer(target.slug))))
    return set_step(spec, step.slug, replace(step, goto=target.slug))


CHANGES: tuple[Change, ...] = (
    drop_effect,
    drop_effect,
    move_effect,
    add_effect,
    drop_step,
    swap_steps,
    retarget,
    retarget,
    unmark,
    jump,
    *FRAME,
)
