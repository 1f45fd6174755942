"""Small changes to what stands round the steps: hands, panels, waits, zones, stages, the profile."""

from __future__ import annotations

import random
from dataclasses import replace

from .edit import pick, set_stage, set_step
from .spec import HANDS, WORDS, Hands, Panel, Spec, Stage, Step


def change_hands(rng: random.Random, spec: Spec) -> Spec:
    """The hands are written otherwise, with or without a reason."""
    step = pick(rng, spec, lambda s: not s.do)
    if step is None:
        return spec
    level = rng.choice(HANDS)
    names = [s.name for s in spec.profile.sources]
    named = tuple(rng.sample(names, rng.randint(1, len(names)))) if level == "live" else ()
    hands = (
        None if step.hands and rng.random() < 0.3 else Hands(level, rng.random() < 0.7 or bool(named), named)
    )
    return set_step(spec, step.slug, replace(step, hands=hands))


def change_panels(rng: random.Random, spec: Spec) -> Spec:
    """A panel is lost, weakened, or loses a source."""
    holders = _holders(spec)
    if not holders:
        return spec
    holder = rng.choice(holders)
    n = rng.randrange(len(holder.panels))
    new = _weaker(rng, holder.panels[n])
    panels = (*holder.panels[:n], *([new] if new else []), *holder.panels[n + 1 :])
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
    return set_stage(spec, spec.stages.index(holder), replace(holder, panels=panels))


def move_panels(rng: random.Random, spec: Spec) -> Spec:
    """The panels of one place stand at another."""
    holders = _holders(spec)
    if not holders:
        return spec
    holder = rng.choice(holders)
    step = pick(rng, spec)
    spec = _hold(spec, holder, ())
    if step is None or rng.random() < 0.3:
        return replace(spec, panels=(*spec.panels, *holder.panels))
    target = next(s for s in spec.steps() if s.slug == step.slug)
    return _hold(spec, target, (*target.panels, *holder.panels))


def change_wait(rng: random.Random, spec: Spec) -> Spec:
    """A wait is too short, or longer than it was."""
    step = pick(rng, spec, lambda s: any(e.kind == "wait" for e in s.effects))
    if step is None:
        return spec
    by = rng.choice((-60, -30, 60, 600, 900))
    effects = tuple(
        replace(e, seconds=max(30, e.seconds + by), upto=0) if e.kind == "wait" else e for e in step.effects
    )
    return set_step(spec, step.slug, replace(step, effects=effects))


def change_reach(rng: random.Random, spec: Spec) -> Spec:
    """A zone is forgotten, or something is said to be clear."""
    n = rng.randrange(len(spec.stages))
    stage = spec.stages[n]
    if stage.zone and rng.random() < 0.5:
        return set_stage(spec, n, replace(stage, zone=None))
    if rng.random() < 0.2:
        return set_stage(
            spec, n, replace(stage, hands=Hands(rng.choice(("controls", "open", "inside")), True))
        )
    name = rng.choice(spec.profile.sources).name
    if rng.random() < 0.3:
        return set_stage(spec, n, replace(stage, clear_of=(name,)))
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
    later = replace(
        stage, slug="later", steps=stage.steps[cut:], panels=stage.panels if rng.random() < 0.7 else ()
    )
    return replace(
        spec, stages=(*spec.stages[:n], replace(stage, steps=stage.steps[:cut]), later, *spec.stages[n + 1 :])
    )


def change_source(rng: random.Random, spec: Spec) -> Spec:
    """The profile is corrected after the procedure was written."""
    sources = spec.profile.sources
    old = rng.choice(sources)
    new = rng.choice(
        (
            replace(old, word=rng.choice(WORDS[1:])),
            replace(old, reaccumulates=True),
            replace(old, reaccumulates=240),
            replace(old, release_from="inside", prove_from="inside"),
        )
    )
    profile = replace(spec.profile, sources=tuple(new if s is old else s for s in sources))
    return replace(spec, profile=profile)


FRAME = (change_hands, change_panels, move_panels, change_wait, change_reach, split_stage, change_source)
