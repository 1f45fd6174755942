"""Small changes to a case: what a tired author, or an editor months later, does to a sound procedure."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from .spec import ACTS, HANDS, WORDS, Answer, Effect, Hands, Panel, Spec, Stage, Step, well_formed

Change = Callable[[random.Random, Spec], Spec]


def mutate(rng: random.Random, spec: Spec) -> Spec:
    """One change that leaves the case writable; the case itself when twenty tries found none."""
    for _ in range(20):
        changed = rng.choice(CHANGES)(rng, spec)
        if changed != spec and well_formed(changed):
            return changed
    return spec


def set_step(spec: Spec, slug: str, *new: Step) -> Spec:
    """Put other steps in the place of one."""
    stages = tuple(replace(stage, steps=tuple(s for old in stage.steps
                                              for s in (new if old.slug == slug else (old,))))
                   for stage in spec.stages)
    return replace(spec, stages=tuple(stage for stage in stages if stage.steps))


def _step(rng: random.Random, spec: Spec, want: Callable[[Step], object] = lambda s: True) -> Step | None:
    """A step of the wanted sort, if there is one."""
    found = [s for s in spec.steps() if want(s)]
    return rng.choice(found) if found else None


def drop_effect(rng: random.Random, spec: Spec) -> Spec:
    """An effect, or one source of it, is forgotten."""
    step = _step(rng, spec, lambda s: s.effects)
    if step is None:
        return spec
    n = rng.randrange(len(step.effects))
    old = step.effects[n]
    less: tuple[Effect, ...] = ()
    if len(old.names) > 1 and rng.random() < 0.6:
        gone = rng.choice(old.names)
        less = (replace(old, names=tuple(x for x in old.names if x != gone)),)
    effects = (*step.effects[:n], *less, *step.effects[n + 1:])
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
    step, other = _step(rng, spec, lambda s: s.effects), _step(rng, spec, lambda s: not s.do)
    if step is None or other is None or step is other:
        return spec
    effect = rng.choice(step.effects)
    rest = tuple(e for e in step.effects if e is not effect)
    spec = set_step(spec, step.slug, replace(step, effects=rest, answers=_fit(step.answers, rest)))
    return set_step(spec, other.slug, replace(other, effects=(*other.effects, effect)))


def add_effect(rng: random.Random, spec: Spec) -> Spec:
    """An effect too many."""
    step = _step(rng, spec, lambda s: not s.do)
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


def without(spec: Spec, slug: str, instead: str) -> Spec:
    """The case without a step, links to it led elsewhere."""
    for s in spec.steps():
        answers = tuple(replace(a, target=instead) if a.target == slug else a for a in s.answers)
        spec = set_step(spec, s.slug, replace(s, answers=answers, goto=instead if s.goto == slug else s.goto))
    return set_step(spec, slug)


def swap_steps(rng: random.Random, spec: Spec) -> Spec:
    """Two steps of one stage in the wrong order."""
    n = rng.randrange(len(spec.stages))
    steps = list(spec.stages[n].steps)
    if len(steps) < 2:
        return spec
    k = rng.randrange(len(steps) - 1)
    steps[k], steps[k + 1] = steps[k + 1], steps[k]
    return _set_stage(spec, n, replace(spec.stages[n], steps=tuple(steps)))


def _set_stage(spec: Spec, n: int, stage: Stage) -> Spec:
    return replace(spec, stages=(*spec.stages[:n], stage, *spec.stages[n + 1:]))


def retarget(rng: random.Random, spec: Spec) -> Spec:
    """An answer or a jump leads to another step."""
    step, target = _step(rng, spec, lambda s: s.answers or s.goto), _step(rng, spec)
    if step is None or target is None:
        return spec
    if step.goto:
        return set_step(spec, step.slug, replace(step, goto=target.slug))
    n = rng.randrange(len(step.answers))
    answer = replace(step.answers[n], target=target.slug)
    return set_step(spec, step.slug, replace(step, answers=(*step.answers[:n], answer, *step.answers[n + 1:])))


def unmark(rng: random.Random, spec: Spec) -> Spec:
    """A failing mark is forgotten, or names one source where it meant all."""
    step = _step(rng, spec, lambda s: any(a.not_zero is not None or a.not_ok for a in s.answers))
    if step is None:
        return spec
    proved = [n for e in step.effects if e.kind == "proves" for n in e.names]
    mark = (rng.choice(proved),) if proved and rng.random() < 0.5 else None
    n = rng.choice([n for n, a in enumerate(step.answers) if a.not_zero is not None or a.not_ok])
    answer = replace(step.answers[n], not_zero=mark, not_ok=False)
    return set_step(spec, step.slug, replace(step, answers=(*step.answers[:n], answer, *step.answers[n + 1:])))


def jump(rng: random.Random, spec: Spec) -> Spec:
    """A jump too many, or a second way out of a step that had one."""
    step, target = _step(rng, spec, lambda s: not (s.do or s.exit or s.goto)), _step(rng, spec)
    if step is None or target is None:
        return spec
    if step.answers:
        return set_step(spec, step.slug, replace(step, answers=(*step.answers, Answer(target.slug))))
    return set_step(spec, step.slug, replace(step, goto=target.slug))


def change_hands(rng: random.Random, spec: Spec) -> Spec:
    """The hands are written otherwise, with or without a reason."""
    step = _step(rng, spec, lambda s: not s.do)
    if step is None:
        return spec
    level = rng.choice(HANDS)
    names = [s.name for s in spec.profile.sources]
    named = tuple(rng.sample(names, rng.randint(1, len(names)))) if level == "live" else ()
    hands = None if step.hands and rng.random() < 0.3 else Hands(level, rng.random() < 0.7 or bool(named), named)
    return set_step(spec, step.slug, replace(step, hands=hands))


def change_panels(rng: random.Random, spec: Spec) -> Spec:
    """A panel is lost, weakened, or loses a source."""
    holders = _holders(spec)
    if not holders:
        return spec
    holder = rng.choice(holders)
    n = rng.randrange(len(holder.panels))
    new = _weaker(rng, holder.panels[n])
    panels = (*holder.panels[:n], *([new] if new else []), *holder.panels[n + 1:])
    return _hold(spec, holder, panels)


def _holders(spec: Spec) -> list[Spec | Stage | Step]:
    """Whatever has panels."""
    every: list[Spec | Stage | Step] = [spec, *spec.stages, *spec.steps()]
    return [h for h in every if h.panels]


def _weaker(rng: random.Random, panel: Panel) -> Panel | None:
    form = rng.choice(("lose", "word", "source"))
    if form == "word":
        return replace(panel, word=rng.choice(WORDS))
    if form == "source" and len(panel.sources) > 1:
        return replace(panel, sources=tuple(rng.sample(panel.sources, len(panel.sources) - 1)))
    return None


def _hold(spec: Spec, holder: Spec | Stage | Step, panels: tuple[Panel, ...]) -> Spec:
    if isinstance(holder, Spec):
        return replace(spec, panels=panels)
    if isinstance(holder, Step):
        return set_step(spec, holder.slug, replace(holder, panels=panels))
    return _set_stage(spec, spec.stages.index(holder), replace(holder, panels=panels))


def move_panels(rng: random.Random, spec: Spec) -> Spec:
    """The panels of one place stand at another."""
    holders = _holders(spec)
    if not holders:
        return spec
    holder = rng.choice(holders)
    step = _step(rng, spec)
    spec = _hold(spec, holder, ())
    if step is None or rng.random() < 0.3:
        return replace(spec, panels=(*spec.panels, *holder.panels))
    target = next(s for s in spec.steps() if s.slug == step.slug)
    return _hold(spec, target, (*target.panels, *holder.panels))


def change_wait(rng: random.Random, spec: Spec) -> Spec:
    """A wait is too short, or longer than it was."""
    step = _step(rng, spec, lambda s: any(e.kind == "wait" for e in s.effects))
    if step is None:
        return spec
    by = rng.choice((-60, -30, 60, 600, 900))
    effects = tuple(replace(e, seconds=max(30, e.seconds + by), upto=0) if e.kind == "wait" else e
                    for e in step.effects)
    return set_step(spec, step.slug, replace(step, effects=effects))


def change_reach(rng: random.Random, spec: Spec) -> Spec:
    """A zone is forgotten, or something is said to be clear."""
    n = rng.randrange(len(spec.stages))
    stage = spec.stages[n]
    if stage.zone and rng.random() < 0.5:
        return _set_stage(spec, n, replace(stage, zone=None))
    if rng.random() < 0.2:
        return _set_stage(spec, n, replace(stage, hands=Hands(rng.choice(("controls", "open", "inside")), True)))
    name = rng.choice(spec.profile.sources).name
    if rng.random() < 0.3:
        return _set_stage(spec, n, replace(stage, clear_of=(name,)))
    step = rng.choice(stage.steps)
    if step.do:
        return spec
    if spec.profile.zones and rng.random() < 0.5:
        return set_step(spec, step.slug, replace(step, zone=rng.choice(spec.profile.zones)[0]))
    return set_step(spec, step.slug, replace(step, clear_of=(name,)))


def split_stage(rng: random.Random, spec: Spec) -> Spec:
    """A heading is put into the middle of a stage."""
    n = rng.randrange(len(spec.stages))
    stage = spec.stages[n]
    if stage.shared or len(stage.steps) < 2 or any(s.slug == "later" for s in spec.stages):
        return spec
    cut = rng.randrange(1, len(stage.steps))
    later = replace(stage, slug="later", steps=stage.steps[cut:], panels=stage.panels if rng.random() < 0.7 else ())
    return replace(spec, stages=(*spec.stages[:n], replace(stage, steps=stage.steps[:cut]), later, *spec.stages[n + 1:]))


def change_source(rng: random.Random, spec: Spec) -> Spec:
    """The profile is corrected after the procedure was written."""
    sources = spec.profile.sources
    old = rng.choice(sources)
    new = rng.choice((replace(old, word=rng.choice(WORDS[1:])), replace(old, reaccumulates=True),
                      replace(old, reaccumulates=240), replace(old, release_from="inside", prove_from="inside")))
    profile = replace(spec.profile, sources=tuple(new if s is old else s for s in sources))
    return replace(spec, profile=profile)


CHANGES: tuple[Change, ...] = (
    drop_effect, drop_effect, move_effect, add_effect, drop_step, swap_steps, retarget, retarget, unmark, jump,
    change_hands, change_panels, move_panels, change_wait, change_reach, split_stage, change_source)
