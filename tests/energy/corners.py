"""Directed cases for the corners where the policy's text leaves room: the numbered choices of the oracle."""

from __future__ import annotations

import random
from dataclasses import replace

from .directed import LOCK, OPEN, SWAP, Maker, coin
from .parts import (
    CLEAR,
    LOOK,
    OUTSIDE,
    SERVICE,
    TAG,
    capacitor,
    eff,
    live,
    mains,
    one_stage,
    panel,
    proof,
    spring,
    trial,
    wait,
)
from .spec import Answer, Hands, Source, Spec, Step


def own_valve(rng: random.Random) -> Spec:
    """A fed store with a valve of its own: held by itself while its feed is live, or the feed cut instead."""
    store = Source(
        "line",
        "pneumatic",
        "warning",
        lockable=coin(rng, 0.3),
        isolate=True,
        fed_by=("mains",),
        release=rng.choice(("none", "action")),
        release_from="outside",
    )
    names = rng.choice((("line",), ("mains",), ("mains", "line")))
    ease = [Step("ease", (eff("releases", "line"),), hands=OUTSIDE)] if store.release == "action" else []
    steps = [Step("lock", (eff("isolates", *names),)), *ease]
    if coin(rng, 0.4):
        steps += [Step("clear", (CLEAR,)), Step("power", (eff("restores", names[0]),))]
    steps += [OPEN, proof("prove", "swap", ("line", *(n for n in names if n == "mains"))), SWAP, TAG]
    spec = one_stage((replace(mains(rng), lockable=False), store), *steps)
    stage = spec.stages[0]
    return replace(spec, stages=(replace(stage, clear_of=("mains",) if names == ("line",) else ()),))


def loaded(rng: random.Random) -> Spec:
    """Work loads a supply or a fed store once it is proved; it may be taken down again."""
    store = Source(
        "line",
        "pneumatic",
        "warning",
        fed_by=("mains",),
        release="action",
        release_from=rng.choice(("inside", "outside")),
    )
    all_sources = (mains(rng), store)
    what = rng.choice(("line", "line", "mains"))
    steps = [
        LOCK,
        Step("ease", (eff("releases", "line"),), hands=OUTSIDE),
        proof("prove", "pump", ("mains", "line")),
        Step("pump", (eff("loads", what),)),
    ]
    steps += [Step("relock", (eff("isolates", "mains"),))] if coin(rng) else []
    steps += [Step("ease-again", (eff("releases", "line"),), hands=OUTSIDE)] if coin(rng, 0.7) else []
    return one_stage(all_sources, *steps, OPEN, proof("check", "swap", ("mains", "line")), SWAP, TAG)


def proof_in_the_lock_step(rng: random.Random) -> Spec:
    """One step locks or releases one source and proves another: where the proof fails, what is the first one then?"""
    all_sources = (
        mains(rng, prove_from="outside"),
        mains(rng, "battery", "battery"),
        spring(rng, release_from="outside"),
    )
    both = rng.choice((eff("isolates", "battery"), eff("releases", "spring"), wait(60)))
    step = Step(
        "lock-and-prove",
        (both, eff("proves", "mains")),
        hands=OUTSIDE if coin(rng) else None,
        answers=(Answer("rest"), Answer(rng.choice(("rest", "once", "tag")), ("mains",))),
    )
    rest = Step("rest", (eff("isolates", "mains", *(("battery",) if coin(rng) else ())),), hands=OUTSIDE)
    once = Step("once", (eff("isolates", "battery"),), hands=OUTSIDE)
    ease = Step("ease", (eff("releases", "spring"),), hands=OUTSIDE)
    steps = [
        LOCK,
        once,
        step,
        rest,
        *([ease] if coin(rng) else []),
        OPEN,
        proof("prove", "swap", ("mains", "battery", "spring")),
        SWAP,
        TAG,
    ]
    steps.pop(1) if coin(rng, 0.3) and step.answers[1].target != "once" else None
    return one_stage(all_sources, *steps)


def failed_test(rng: random.Random) -> Spec:
    """A failed test leads to service after all, straight or after a good one of another name."""
    names = rng.choice((("travel",), ("travel", "leak")))
    to = rng.choice(("finish", "once-more", "lock", "look"))
    steps = [
        trial("try", "once-more", to, names[:1] if coin(rng) else names),
        *([Step("look", hands=LOOK)] if to == "look" else []),
        trial("once-more", "finish", "lock", names if coin(rng) else names[-1:]),
        SERVICE,
        LOCK,
        TAG,
    ]
    return one_stage((mains(rng),), *steps, tests=names if coin(rng, 0.7) else ())


def released_by_hand(rng: random.Random) -> Spec:
    """`releases` where only time releases, or where nothing needs it; a wait where only an action does."""
    store = rng.choice(
        (
            capacitor(rng, "mains", bleed=60),
            Source("cap", "capacitor", "warning", fed_by=("mains",), release="action"),
            Source("cap", "capacitor", "warning", fed_by=("mains",)),
        )
    )
    middle = rng.choice(
        (
            [Step("ease", (eff("releases", "cap"),))],
            [Step("drain", (wait(60),))],
            [Step("drain", (wait(60),)), Step("ease", (eff("releases", "cap"),))],
        )
    )
    if coin(rng, 0.4):
        middle = middle if coin(rng) else []
        return one_stage(
            (mains(rng), store), LOCK, *middle, proof("prove", "tag", ("mains", "cap")), TAG, guards=()
        )
    return one_stage(
        (mains(rng), store), LOCK, *middle, OPEN, proof("prove", "swap", ("mains", "cap")), SWAP, TAG
    )


def meter_while_on(rng: random.Random) -> Spec:
    """Probing, or working live, in the very step that runs, loads or restores a source."""
    all_sources = (mains(rng), spring(rng, release_from="outside"))
    act = rng.choice((eff("runs-on", "mains"), eff("loads", "spring"), eff("restores", "mains")))
    hands = rng.choice((Hands("probe", True), Hands("open", True), live("mains"), None))
    meter = Step("meter", (act,), hands=hands, panels=panel(all_sources, "mains", word="danger"))
    ready = [LOCK, Step("ease", (eff("releases", "spring"),)), proof("prove", "meter", ("mains", "spring"))]
    ready += [Step("clear", (CLEAR,))] if act.kind == "restores" and coin(rng, 0.8) else []
    ready = ready[1:2] if act.kind == "runs-on" and coin(rng) else ready
    ready = [
        replace(s, answers=(Answer("clear" if ready[-1].slug == "clear" else "meter"), *s.answers[1:]))
        if s.answers
        else s
        for s in ready
    ]
    return one_stage(all_sources, *ready, meter, Step("relock", (eff("isolates", "mains"),)), TAG)


def long_wait(rng: random.Random) -> Spec:
    """Re-accumulation after a time, with waits written as ranges and waits that bleed and run on."""
    need, back = rng.choice((60, 120)), rng.choice((180, 240))
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=need, reaccumulates=back))
    most = rng.choice((0, need + back, need + back + 30, need + 30))
    pause = (
        [Step("pause", (wait(rng.choice((60, 120)), rng.choice((0, 150, back + 30))),))] if coin(rng) else []
    )
    return one_stage(
        all_sources,
        LOCK,
        Step("drain", (wait(need if coin(rng, 0.8) else need // 2, most),)),
        OPEN,
        proof("prove", pause[0].slug if pause else "swap", ("mains", "cap")),
        *pause,
        SWAP,
        TAG,
    )


def half_waited_across_a_stage(rng: random.Random) -> Spec:
    """The time waited is split by a heading, or by a shared stage, which is none."""
    cap = capacitor(rng, "mains", bleed=120, reaccumulates=rng.choice((True, False)))
    all_sources = (mains(rng), cap)
    steps = (
        Step("drain-more", (wait(rng.choice((60, 60, 120))),)),
        OPEN,
        proof("prove", "swap", ("mains", "cap")),
        SWAP,
        TAG,
    )
    spec = one_stage(all_sources, LOCK, Step("drain", (wait(60),)), *steps)
    stage = spec.stages[0]
    if coin(rng, 0.4):
        block = replace(stage, slug="half", steps=stage.steps[1:2], shared=True, panels=())
        ask = Step("let-it-drain", do="half")
        return replace(spec, stages=(replace(stage, steps=(LOCK, ask, *steps)), block))
    cut = rng.choice((1, 2))
    return replace(
        spec,
        stages=(
            replace(stage, slug="safe", steps=stage.steps[:cut]),
            replace(stage, steps=stage.steps[cut:]),
        ),
    )


CORNERS: tuple[Maker, ...] = (
    own_valve,
    loaded,
    proof_in_the_lock_step,
    failed_test,
    released_by_hand,
    meter_while_on,
    long_wait,
    half_waited_across_a_stage,
)
