"""Directed cases about levels and time, one theme a function: places where random procedures hardly ever go wrong.

Each makes both sound and unsound cases, by the toss of a coin; the oracle says which is which.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import replace

from .parts import (
    CLEAR,
    LID,
    LOOK,
    OUTSIDE,
    SERVICE,
    TAG,
    capacitor,
    eff,
    mains,
    one_stage,
    panel,
    proof,
    spring,
    trial,
    wait,
)
from .spec import Answer, Effect, Hands, Profile, Source, Spec, Stage, Step

Maker = Callable[[random.Random], Spec]
OPEN, CLOSE = Step("open", (eff("removes", LID),)), Step("close", (eff("refits", LID), CLEAR))
LOCK, POWER = Step("lock", (eff("isolates", "mains"),)), Step("power", (eff("restores", "mains"),))
SWAP = Step("swap")


def coin(rng: random.Random, share: float = 0.5) -> bool:
    """True in that share of tosses."""
    return rng.random() < share


def again(sources: tuple[Source, ...], slug: str = "again", *names: str) -> Step:
    """Lock the mains once more, with the panels that the restore has ended."""
    return Step(slug, (eff("isolates", "mains"), *(eff("isolates", n) for n in names)), panels=panel(sources))


def waited_then_restored(rng: random.Random) -> Spec:
    """Waited, restored, locked again: the time waited before does not count."""
    need = rng.choice((120, 300))
    first = rng.choice((need, need // 2))
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=need))
    second = wait(rng.choice((need, need - first, need // 2)) or 30)
    steps = [
        LOCK,
        Step("drain", (wait(first),)),
        Step("clear", (CLEAR,)),
        POWER,
        again(all_sources),
        Step("drain-again", (second,)),
        OPEN,
        proof("prove", "swap", ("mains", "cap")),
        SWAP,
        TAG,
    ]
    if coin(rng, 0.3):
        steps[3] = Step("power", (eff("runs-on", "mains"),))
    return one_stage(all_sources, *steps)


def across_a_stage(rng: random.Random) -> Spec:
    """Proved in one stage, worked on in the next: a re-accumulating store is back."""
    cap = capacitor(rng, "mains", bleed=120, reaccumulates=rng.choice((True, 600, False)))
    all_sources = (mains(rng), cap)
    shown = panel(all_sources)
    first: tuple[Step, ...] = (
        LOCK,
        Step("drain", (wait(120),)),
        OPEN,
        proof("prove", "swap", ("mains", "cap")),
    )
    second: tuple[Step, ...] = (SWAP, TAG)
    if coin(rng):
        first = (*first[:3],) if coin(rng) else first[:1]
        second = (
            Step("drain-more", (wait(rng.choice((60, 120))),)),
            *(() if len(first) == 3 else (OPEN,)),
            proof("prove", "swap", ("mains", "cap")),
            *second,
        )
    return Spec(
        Profile(all_sources, (LID,)),
        (Stage("safe", first, panels=shown), Stage("work", second, panels=shown)),
    )


def lock_off_on_one_branch(rng: random.Random) -> Spec:
    """One answer leads over taking the lock off, the other does not; both meet again."""
    all_sources = (mains(rng),)
    decide = Step("decide", hands=LOOK, answers=(Answer("clear"), Answer("open")))
    back = coin(rng)
    steps = [
        LOCK,
        decide,
        Step("clear", (CLEAR,)),
        POWER,
        *([again(all_sources)] if back else []),
        OPEN,
        proof("prove", "swap", ("mains",)),
        SWAP,
        TAG,
    ]
    if coin(rng, 0.3):
        steps = [LOCK, decide, Step("clear", (CLEAR,)), POWER, Step("meet", (), hands=LOOK), TAG]
        steps[1] = replace(decide, answers=(Answer("clear"), Answer("meet")))
    return one_stage(all_sources, *steps)


def shared_twice(rng: random.Random) -> Spec:
    """A shared stage done twice, from different states, returning to different needs."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120))
    block_steps = [LOCK, Step("drain", (wait(120),))]
    work = [Step("make-safe", do="safe"), OPEN, proof("prove", "swap", ("mains", "cap")), SWAP, CLOSE]
    if coin(rng, 0.7):
        work.append(POWER)
    work.append(Step("once-more", do="safe"))
    work += [Step("open-again", (eff("removes", LID),), panels=panel(all_sources) if coin(rng) else ())]
    work += [proof("prove-again", "swap-again", ("mains", "cap"))] if coin(rng, 0.7) else []
    work += [Step("swap-again"), TAG]
    if coin(rng, 0.4):
        block_steps.append(
            Step("ready", hands=LOOK, answers=(Answer("back"), Answer("tag" if coin(rng) else "drain")))
        )
    block = Stage("safe", tuple(block_steps), True, coin(rng, 0.3) and len(block_steps) == 2)
    main = Stage("work", tuple(work), panels=panel(all_sources))
    return Spec(Profile(all_sources, (LID,)), (block, main))


def two_releases(rng: random.Random) -> Spec:
    """Two stores released by action one after the other, from inside or outside."""
    one = spring(rng, "spring", release_from=rng.choice(("inside", "inside", "outside")))
    two = spring(rng, "other", release_from=rng.choice(("inside", "inside", "outside")))
    order = [Step("let-go", (eff("releases", "spring"),)), Step("let-go-too", (eff("releases", "other"),))]
    rng.shuffle(order)
    steps = [order[0], OPEN, order[1]] if coin(rng, 0.3) else [OPEN, *order]
    steps = steps[:-1] if coin(rng, 0.2) else steps
    if coin(rng, 0.25):
        steps.append(Step("peer-in", hands=Hands("open", True)))
    return one_stage((one, two), *steps, proof("prove", "swap", ("spring", "other")), SWAP, TAG)


def inside_while_loading(rng: random.Random) -> Spec:
    """Hands in the step that loads a spring: what is said after it happens with the spring loaded."""
    source = spring(rng, release_from="outside", prove_from=rng.choice(("inside", "outside")))
    hands = rng.choice((None, Hands("inside"), Hands("probe", True), Hands("open"), OUTSIDE, OUTSIDE))
    wind = Step("wind", (eff("loads", "spring"),), hands=hands)
    said = OUTSIDE if source.prove_from == "outside" else None
    steps = [
        Step("ease", (eff("releases", "spring"),)),
        OPEN,
        proof("prove", "swap", ("spring",), hands=said),
        SWAP,
    ]
    tail = [wind, CLOSE] if coin(rng, 0.4) else [CLOSE, wind]
    return one_stage((source,), *steps, *tail, trial("try", "finish", "tag"), SERVICE, TAG)


def failed_proof_goes_on(rng: random.Random) -> Spec:
    """The failing answer leads on into the work, or back to before it."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120))
    fail = rng.choice(("swap", "tag", "lock", "drain", "close", "prove"))
    steps = [
        replace(LOCK, hands=OUTSIDE),
        Step("drain", (wait(120),)),
        OPEN,
        proof("prove", "swap", ("mains", "cap"), fail),
        SWAP,
        CLOSE,
        TAG,
    ]
    return one_stage(all_sources, *steps)


def two_feeds(rng: random.Random) -> Spec:
    """A store with two feeds, of which one may be uncut."""
    all_sources = (
        mains(rng),
        mains(rng, "battery", "battery"),
        capacitor(rng, "mains", "battery", bleed=120),
    )
    names = [("mains",), ("mains", "battery"), ("mains", "battery")][rng.randrange(3)]
    locks = [Step(f"lock-{n}", (eff("isolates", n),)) for n in names]
    drain = Step("drain", (wait(120),))
    steps = [*locks, drain] if coin(rng, 0.7) or len(locks) < 2 else [locks[0], drain, locks[1]]
    done = tuple(s.name for s in all_sources if s.name in (*names, "cap"))
    stage = Stage(
        "work",
        (*steps, OPEN, proof("prove", "swap", done), SWAP, TAG),
        panels=panel(all_sources),
        zone="box" if coin(rng) else None,
    )
    return Spec(Profile(all_sources, (LID,), (("box", done),)), (stage,))


def not_zero_names_one(rng: random.Random) -> Spec:
    """The failing answers name one source each: what the others are then."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120), spring(rng, release_from="outside"))
    to = [rng.choice(("tag", "tag", "lock", "lock", "drain", "ease", "swap", "prove")) for _ in range(3)]
    names = ("mains", "cap", "spring")
    answers = (Answer("swap"), *(Answer(t, (n,)) for t, n in zip(to, names, strict=True)))
    steps = [
        replace(LOCK, hands=OUTSIDE),
        Step("drain", (wait(120),)),
        Step("ease", (eff("releases", "spring"),), hands=OUTSIDE),
        OPEN,
        Step("prove", (Effect("proves", names),), answers=answers),
        SWAP,
        TAG,
    ]
    return one_stage(all_sources, *steps)


def wait_in_parts(rng: random.Random) -> Spec:
    """The bleeding time is split over steps; a loop or a branch may shorten it."""
    need = rng.choice((120, 240))
    cut = rng.choice((need // 2, need // 3))
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=need))
    ask = Step(
        "ask",
        hands=LOOK,
        answers=(Answer(rng.choice(("rest", "open", "tag"))), Answer(rng.choice(("part", "lock", "rest")))),
    )
    steps = [
        LOCK,
        Step("part", (wait(cut),)),
        *([ask] if coin(rng) else []),
        Step("rest", (wait(need - cut if coin(rng, 0.8) else cut // 2, rng.choice((0, need))),)),
        OPEN,
        proof("prove", "swap", ("mains", "cap")),
        SWAP,
        TAG,
    ]
    return one_stage(all_sources, *steps)


def back_after_a_time(rng: random.Random) -> Spec:
    """It is back after a time: one long wait, two short ones, a range, a loop."""
    back = rng.choice((120, 300))
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=60, reaccumulates=back))
    first = wait(rng.choice((60, 60, 60, 60, 60 + back, 90 + back)))
    pause = [
        Step(
            "pause",
            (wait(rng.choice((back, back // 2, back // 2, back + 30)), rng.choice((0, 0, 0, back + 60))),),
        )
    ]
    pause += [Step("pause-more", (wait(back // 2),))] if coin(rng, 0.4) else []
    more = [proof("prove-again", "swap", ("mains", "cap"))] if coin(rng, 0.2) else []
    then = "prove-again" if more else "swap"
    loop = [Step("ask", hands=LOOK, answers=(Answer("pause" if coin(rng, 0.6) else "drain"), Answer(then)))]
    steps = [
        LOCK,
        Step("drain", (first,)),
        OPEN,
        proof("prove", "pause", ("mains", "cap")),
        *pause,
        *(loop if coin(rng, 0.25) else []),
        *more,
    ]
    return one_stage(all_sources, *steps, SWAP, TAG)


LEVELS: tuple[Maker, ...] = (
    waited_then_restored,
    across_a_stage,
    lock_off_on_one_branch,
    shared_twice,
    two_releases,
    inside_while_loading,
    failed_proof_goes_on,
    two_feeds,
    not_zero_names_one,
    wait_in_parts,
    back_after_a_time,
)
