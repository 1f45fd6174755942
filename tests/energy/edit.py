"""Edits of a case that several modules need."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from .spec import Spec, Stage, Step


def set_step(spec: Spec, slug: str, *new: Step) -> Spec:
    """Put other steps in the place of one."""
    stages = tuple(
        replace(stage, steps=tuple(s for old in stage.steps for s in (new if old.slug == slug else (old,))))
        for stage in spec.stages
    )
    return replace(spec, stages=tuple(stage for stage in stages if stage.steps))


def pick(rng: random.Random, spec: Spec, want: Callable[[Step], object] = lambda s: True) -> Step | None:
    """A step of the wanted sort, if there is one."""
    found = [s for s in spec.steps() if want(s)]
    return rng.choice(found) if found else None


def without(spec: Spec, slug: str, instead: str) -> Spec:
    """The case without a step, links to it led elsewhere."""
    for s in spec.steps():
        answers = tuple(replace(a, target=instead) if a.target == slug else a for a in s.answers)
        spec = set_step(spec, s.slug, replace(s, answers=answers, goto=instead if s.goto == slug else s.goto))
    return set_step(spec, slug)


def set_stage(spec: Spec, n: int, stage: Stage) -> Spec:
    """Put another stage in the place of one."""
    return replace(spec, stages=(*spec.stages[:n], stage, *spec.stages[n + 1 :]))
