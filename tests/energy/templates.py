"""Random sound procedures: lock, wait, release, open, prove, work, close, restore, test, leave."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

from .parts import (
    CLEAR,
    INSIDE,
    LID,
    LOOK,
    OUTSIDE,
    SERVICE,
    TAG,
    eff,
    live,
    panel,
    trial,
    wait,
)
from .pool import sources
from .spec import Answer, Panel, Profile, Source, Spec, Stage, Step

FIRST = "first"
"""Stands for the step that begins making safe, until the steps are laid out."""


@dataclass(frozen=True)
class Frame:
    """What the parts of one sound procedure have in common."""

    all: tuple[Source, ...]
    reached: tuple[Source, ...]
    guarded: bool
    tests: tuple[str, ...]

    @property
    def roots(self) -> tuple[str, ...]:
        """All that can be isolated."""
        return tuple(s.name for s in self.all if s.isolate)


def sound(rng: random.Random) -> Spec:
    """A procedure that should be accepted (the oracle decides, not this)."""
    all_sources = sources(rng)
    all_sources = _orders(rng, all_sources)
    reached = (
        all_sources
        if rng.random() < 0.75
        else tuple(rng.sample(all_sources, rng.randint(1, len(all_sources))))
    )
    frame = Frame(
        all_sources, reached, rng.random() < 0.85, rng.choice(((), (), ("travel",), ("travel", "leak")))
    )
    make, work, ending = _make_safe(rng, frame), _work(rng, frame), _ending(rng, frame)
    return _arrange(rng, frame, make, work, ending)


def _orders(rng: random.Random, all_sources: tuple[Source, ...]) -> tuple[Source, ...]:
    """Sometimes an order of restoring."""
    roots = [s for s in all_sources if s.isolate]
    if len(roots) < 2 or rng.random() < 0.7:
        return all_sources
    last = roots[-1]
    return tuple(replace(s, needs_restores=(roots[0].name,)) if s is last else s for s in all_sources)


def _make_safe(rng: random.Random, f: Frame) -> list[Step]:
    """Lock everything, let it go, open."""
    steps = [Step("lock", (eff("isolates", *f.roots),), hands=OUTSIDE)]
    if len(f.roots) > 1 and rng.random() < 0.4:
        steps = [Step(f"lock-{name}", (eff("isolates", name),), hands=OUTSIDE) for name in f.roots]
    longest = max((s.bleed for s in f.all if s.release == "bleed"), default=0)
    if longest:
        steps = _drain(rng, steps, longest)
    outside = [s.name for s in f.all if s.release == "action" and s.release_from == "outside"]
    inner = [s.name for s in f.reached if s.release == "action" and s.release_from == "inside"]
    steps += [Step("ease", (eff("releases", *outside),), hands=OUTSIDE)] if outside else []
    steps += [Step("open", (eff("removes", LID),))] if f.guarded else []
    if len(inner) > 1 and rng.random() < 0.5:
        return steps + [Step(f"let-go-{name}", (eff("releases", name),)) for name in inner]
    return steps + ([Step("let-go", (eff("releases", *inner),))] if inner else [])


def _drain(rng: random.Random, steps: list[Step], longest: int) -> list[Step]:
    """The wait: in the last lock step, on its own, in two parts, as a range."""
    form = rng.choice(("in", "own", "own", "two", "range"))
    if form == "in":
        return [*steps[:-1], replace(steps[-1], effects=(*steps[-1].effects, wait(longest)))]
    if form == "two":
        half = longest // 2
        return [*steps, Step("drain", (wait(half),)), Step("drain-more", (wait(longest - half),))]
    return [*steps, Step("drain", (wait(longest, longest + 120 if form == "range" else 0),))]


def _work(rng: random.Random, f: Frame) -> list[Step]:
    """Prove and work; a failed proof is tagged, or tried again."""
    names = tuple(s.name for s in f.reached)
    answers = [Answer("swap"), Answer("tag", ())]
    if rng.random() < 0.3:
        answers.append(Answer(rng.choice((FIRST, "tag")), (rng.choice(names),)))
    steps = [Step("prove", (eff("proves", *names),), answers=tuple(answers))]
    steps.append(Step("swap", hands=INSIDE if rng.random() < 0.3 else None))
    if rng.random() < 0.25:
        steps.append(Step("look-over", hands=LOOK, answers=(Answer("close"), Answer("swap"))))
    return steps


def _ending(rng: random.Random, f: Frame) -> list[Step]:
    """Close up and restore, or leave it tagged."""
    if rng.random() < 0.3:
        return [replace(TAG, slug="close") if not f.guarded else Step("close", (eff("refits", LID),)), TAG]
    tests = f.tests or ("function",)
    close = (eff("refits", LID), CLEAR) if f.guarded else (CLEAR,)
    steps = [Step("close", close)]
    if rng.random() < 0.5 and not any(s.needs_restores for s in f.all):
        steps.append(Step("power", (eff("restores", *f.roots),)))
    else:
        steps += [Step(f"power-{name}", (eff("restores", name),)) for name in f.roots]
    if rng.random() < 0.3:
        steps.append(Step("run", (eff("runs-on", f.roots[0]),)))
    relock = Step("relock", (eff("isolates", *f.roots),))
    return [*steps, trial("try", "finish", "relock", tests), SERVICE, relock, TAG]


def _arrange(rng: random.Random, f: Frame, make: list[Step], work: list[Step], ending: list[Step]) -> Spec:
    """Lay the steps into stages, with panels somewhere, as one line or with a shared stage."""
    first = make[0].slug
    work = [
        replace(s, answers=tuple(replace(a, target=first) if a.target == FIRST else a for a in s.answers))
        for s in work
    ]
    zone = "reach" if f.reached != f.all else None
    profile = Profile(
        f.all,
        (LID,) if f.guarded else (),
        (("reach", tuple(s.name for s in f.reached)),) if zone else (),
        f.tests,
    )
    shown = panel(f.reached)
    place = rng.choice(("document", "stage", "step"))
    if rng.random() < 0.35:
        stages = _with_block(rng, make, work, ending, zone, shown if place != "document" else ())
    else:
        steps = (*make, *work, *ending)
        stages = (Stage("work", steps, panels=shown if place == "stage" else (), zone=zone),)
        if place == "step":
            stages = (replace(stages[0], steps=(replace(steps[0], panels=shown), *steps[1:])),)
        stages = _split(rng, stages)
    return Spec(profile, stages, shown if place == "document" else ())


def _split(rng: random.Random, stages: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """Sometimes a stage of its own for what comes after closing."""
    steps = stages[0].steps
    cut = next((n for n, s in enumerate(steps) if s.slug.startswith("power")), 0)
    if not cut or rng.random() < 0.5:
        return stages
    return replace(stages[0], steps=steps[:cut]), Stage("ending", steps[cut:])


def _with_block(
    rng: random.Random,
    make: list[Step],
    work: list[Step],
    ending: list[Step],
    zone: str | None,
    shown: tuple[Panel, ...],
) -> tuple[Stage, ...]:
    """Make safe is a shared stage of the document or of the profile."""
    prove = next(n for n, s in enumerate(work) if s.slug == "prove")
    inner = rng.random() < 0.5 and all(a.target != make[0].slug for a in work[prove].answers)
    if inner:
        back = tuple(replace(a, target="back") if a.target == "swap" else a for a in work[prove].answers)
        make, work = [*make, replace(work[prove], answers=back)], work[prove + 1 :]
    else:
        ask = {make[0].slug: "make-safe"}
        work = [
            replace(s, answers=tuple(replace(a, target=ask.get(a.target, a.target)) for a in s.answers))
            for s in work
        ]
    in_profile = rng.random() < 0.4 and not inner
    block = Stage(
        "safe", tuple(make), True, in_profile, panels=shown if rng.random() < 0.3 else (), zone=zone
    )
    main = Stage("work", (Step("make-safe", do="safe"), *work, *ending), panels=shown, zone=zone)
    return (block, main) if rng.random() < 0.5 else (main, block)


def outside_only(rng: random.Random) -> Spec:
    """Looking, trying from outside, or one live step from outside jacks; nothing is opened."""
    all_sources = tuple(s for s in sources(rng) if s.isolate)
    steps = [Step("look", hands=LOOK)]
    steps += [Step("run", (eff("runs-on", all_sources[0].name),))] if rng.random() < 0.6 else []
    shown: tuple[Panel, ...] = ()
    if rng.random() < 0.5:
        named = tuple(s.name for s in all_sources)
        strong = tuple(replace(s, word="warning" if s.word == "caution" else "danger") for s in all_sources)
        shown = panel(strong)
        steps.append(Step("trim", hands=live(*named)))
        steps.append(trial("try", "finish", "lock"))
        steps.append(SERVICE)
    else:
        steps.append(Step("decide", hands=LOOK, answers=(Answer("as-found"), Answer("lock"))))
        steps.append(Step("as-found", exit="found"))
    steps += [Step("lock", (eff("isolates", *(s.name for s in all_sources)),)), TAG]
    return Spec(Profile(all_sources, (LID,)), (Stage("work", tuple(steps), panels=shown),))
