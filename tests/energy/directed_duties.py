"""Directed cases about duties: cautions, guards, tests, exits, orders, live work, zones, the graph."""

from __future__ import annotations

import random
from dataclasses import replace

from .directed import CLOSE, LOCK, OPEN, POWER, SWAP, Maker, again, coin
from .parts import (
    CLEAR,
    LID,
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
from .spec import Answer, Hands, Profile, Source, Spec, Stage, Step


def charger(rng: random.Random) -> Spec:
    """Locking the charger leaves the battery live; a feed would not."""
    pack = Source("battery", "battery", "warning", lockable=coin(rng, 0.3), isolate=True)
    pack = replace(pack, charged_by=("mains",)) if coin(rng, 0.6) else replace(pack, fed_by=("mains",))
    names = ("mains", "battery") if coin(rng) else ("mains",)
    return one_stage(
        (mains(rng), pack),
        Step("lock", (eff("isolates", *names),)),
        OPEN,
        proof("prove", "swap", ("mains", "battery")),
        SWAP,
        TAG,
    )


def caution_dies(rng: random.Random) -> Spec:
    """After a restore the caution has to be read again."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120))
    shown = rng.choice((panel(all_sources), panel(all_sources, "mains"), panel(all_sources, "cap"), ()))
    second = replace(again(all_sources), panels=shown, effects=(eff("isolates", "mains"), wait(120)))
    steps = [
        LOCK,
        Step("clear", (CLEAR,)),
        *([POWER] if coin(rng, 0.8) else []),
        second,
        OPEN,
        proof("prove", "swap", ("mains", "cap")),
        SWAP,
        TAG,
    ]
    spec = one_stage(all_sources, *steps, panels=())
    first = panel(all_sources)
    return (
        replace(spec, panels=first)
        if coin(rng)
        else replace(spec, stages=(replace(spec.stages[0], panels=first),))
    )


def caution_of_a_stage(rng: random.Random) -> Spec:
    """A panel ends with its stage, one above the first stage does not, a step's holds on; jumps cross stages."""
    all_sources = (mains(rng),)
    shown = panel(all_sources)
    first: tuple[Step, ...] = (LOCK, OPEN, proof("prove", "swap", ("mains",)))
    second: tuple[Step, ...] = (SWAP, TAG)
    where = rng.choice(("document", "first", "both", "step", "steps", "second"))
    if where in ("step", "steps"):
        first = (replace(LOCK, panels=shown), *first[1:])
        second = (replace(SWAP, panels=shown), TAG) if where == "steps" else second
    if coin(rng, 0.3):
        second = (
            replace(SWAP, hands=None),
            Step("more", hands=LOOK, answers=(Answer("prove"), Answer("tag"))),
            TAG,
        )
    stages = (
        Stage("safe", first, panels=shown if where in ("first", "both") else ()),
        Stage("work", second, panels=shown if where in ("second", "both") else ()),
    )
    return Spec(Profile(all_sources, (LID,)), stages, shown if where == "document" else ())


def guard_on_one_branch(rng: random.Random) -> Spec:
    """One branch forgets the guard; power, work at the controls and the exit notice."""
    all_sources = (mains(rng),)
    branch = Step("decide", hands=LOOK, answers=(Answer("close"), Answer("clear" if coin(rng) else "close")))
    steps = [
        LOCK,
        OPEN,
        proof("prove", "swap", ("mains",)),
        SWAP,
        branch,
        CLOSE,
        Step("clear", (CLEAR,)),
        POWER,
        trial("try", "finish", "relock"),
        SERVICE,
        Step("relock", (eff("isolates", "mains"),)),
        TAG,
    ]
    if coin(rng, 0.2):
        steps[7] = Step("power", hands=OUTSIDE if coin(rng) else Hands("away"))
    return one_stage(all_sources, *steps)


def service_without_test(rng: random.Random) -> Spec:
    """An exposure after the test, or a branch round it."""
    all_sources = (mains(rng),)
    shown = panel(all_sources, word="danger")
    test = trial("try", "check", "relock")
    check = Step(
        "check",
        hands=rng.choice((LOOK, OUTSIDE, live("mains"), Hands("open"))),
        panels=shown if coin(rng) else (),
    )
    skip = Step("decide", hands=LOOK, answers=(Answer("try"), Answer("finish" if coin(rng) else "relock")))
    steps = [
        test,
        check,
        *([skip] if coin(rng) else []),
        SERVICE,
        Step("relock", (eff("isolates", "mains"),)),
        TAG,
    ]
    return one_stage(all_sources, *steps)


def named_tests(rng: random.Random) -> Spec:
    """Each test that the profile lists before service, in one step or in several, with an exposure between."""
    names = ("travel", "leak")
    done = rng.choice((names, ("travel",), ("leak",)))
    split = coin(rng)
    tests = [trial("try", "look", "lock", done[:1] if split else done), Step("look", hands=LOOK)]
    if coin(rng, 0.3):
        tests[1] = Step("look", hands=live("mains"), panels=panel((mains(rng),), word="danger"))
    tests += [trial("try-more", "finish", "lock", done[-1:])] if split or coin(rng, 0.3) else []
    return one_stage((mains(rng),), *tests, SERVICE, LOCK, TAG, tests=names if coin(rng, 0.8) else ("leak",))


def live_with_reason(rng: random.Random) -> Spec:
    """Energised work: named, warned of by DANGER, other sources at zero or not."""
    all_sources = (mains(rng, prove_from="outside"), mains(rng, "battery", "battery", prove_from="outside"))
    named = rng.choice((("mains",), ("battery",), ("mains", "battery")))
    shown = panel(all_sources, word=rng.choice(("danger", "danger", "danger", "warning", "caution")))
    other = [n for n in ("mains", "battery") if n not in named][:1] or ["battery"]
    first = (
        [Step("lock", (eff("isolates", *other),)), proof("prove", "trim", tuple(other), "lock-up")]
        if coin(rng, 0.7)
        else []
    )
    first = first[:1] if coin(rng, 0.2) else first
    trim = Step("trim", hands=replace(live(*named), reason=coin(rng, 0.95)), panels=shown)
    steps = [*first, trim, Step("lock-up", (eff("isolates", "mains", "battery"),)), TAG]
    return one_stage(all_sources, *steps, panels=panel(all_sources) if coin(rng) else ())


def live_restores(rng: random.Random) -> Spec:
    """Restored, trimmed and locked again: from outside, in one live step, or with the lid off."""
    all_sources = (replace(mains(rng), word="warning"),)
    danger = panel(all_sources, word="danger")
    steps = [LOCK, OPEN, proof("prove", "swap", ("mains",)), SWAP, CLOSE]
    if coin(rng):
        steps += [POWER, Step("trim", hands=live("mains"), panels=danger if coin(rng, 0.7) else ())]
    else:
        steps += [Step("power", (eff("restores", "mains"),), hands=live("mains"), panels=danger)]
    steps += [OPEN] if coin(rng, 0.2) else []
    steps = [replace(s, slug="open-again") if n > 2 and s is OPEN else s for n, s in enumerate(steps)]
    return one_stage(all_sources, *steps, Step("relock", (eff("isolates", "mains"),)), TAG)


def outside_proofs(rng: random.Random) -> Spec:
    """Proved from outside: no exposure, guards on or off, alone or together with an inside source."""
    spots = [rng.choice(("outside", "outside", "inside")) for _ in range(2)]
    all_sources = (mains(rng, prove_from=spots[0]), mains(rng, "gravity", "gravity", prove_from=spots[1]))
    hands = rng.choice((None, None, OUTSIDE, Hands("probe", True)))
    locks = ("mains", "gravity") if coin(rng, 0.8) else ("mains",)
    early = coin(rng)
    prove = proof("prove", "open" if early else "swap", locks, hands=hands)
    prove = replace(prove, effects=tuple(eff("proves", n) for n in locks)) if coin(rng) else prove
    steps = [prove, OPEN] if early else [OPEN, prove]
    return one_stage(
        all_sources,
        Step("lock", (eff("isolates", *locks),)),
        *steps,
        SWAP,
        TAG,
        panels=None if coin(rng, 0.7) else (),
    )


def orders(rng: random.Random) -> Spec:
    """Orders of the profile: hold the boom before the spring is let go, power before the pin comes out."""
    boom = mains(rng, "gravity", "gravity", needs_restores=("mains",) if coin(rng) else ())
    source = spring(
        rng, release_from="outside", needs_releases=rng.choice((("gravity",), ("gravity", "mains"), ()))
    )
    names = ["mains", "gravity"]
    rng.shuffle(names)
    ease = Step("ease", (eff("releases", "spring"),))
    locks = [Step(f"lock-{n}", (eff("isolates", n),)) for n in names]
    steps = [*locks, ease] if coin(rng, 0.6) else [locks[0], ease, locks[1]]
    rng.shuffle(names)
    power = [Step(f"power-{n}", (eff("restores", n),)) for n in names]
    if coin(rng, 0.3):
        power = [Step("power", (eff("restores", *names),))]
    steps += [OPEN, proof("prove", "swap", ("mains", "gravity", "spring")), SWAP, CLOSE, *power]
    tail = [trial("try", "finish", "relock"), SERVICE, Step("relock", (eff("isolates", *names),)), TAG]
    return one_stage((mains(rng), boom, source), *steps, *tail)


def clear_of(rng: random.Random) -> Spec:
    """A source explained away on a stage or a step, also where a step acts on it."""
    all_sources = (mains(rng), mains(rng, "battery", "battery"))
    acted = ("mains", "battery") if coin(rng) else ("mains",)
    steps = [
        Step("lock", (eff("isolates", *acted),)),
        OPEN,
        proof("prove", "swap", rng.choice((("mains",), acted))),
        SWAP,
        TAG,
    ]
    stage = Stage("work", tuple(steps), panels=panel(all_sources, *acted), clear_of=("battery",))
    if coin(rng):
        steps[3] = replace(SWAP, clear_of=("battery",) if coin(rng, 0.8) else ("mains",))
        stage = replace(stage, steps=tuple(steps), clear_of=() if coin(rng) else ("battery",))
    return Spec(Profile(all_sources, (LID,)), (stage,))


def as_found(rng: random.Random) -> Spec:
    """Left as found: looking and running keep it, locking, opening and restoring end it."""
    all_sources = (mains(rng),)
    middle = rng.choice(
        (
            Step("run", (eff("runs-on", "mains"),)),
            LOCK,
            OPEN,
            Step("look-in", hands=live("mains")),
            Step("try", hands=LOOK),
            Step("drain", (wait(60),)),
            Step("again", (CLEAR,)),
        )
    )
    decide = Step("decide", hands=LOOK, answers=(Answer("leave"), Answer("lock-up")))
    return one_stage(
        all_sources,
        Step("look", hands=LOOK),
        *([middle] if coin(rng, 0.8) else []),
        decide,
        Step("leave", exit="found"),
        Step("lock-up", (eff("isolates", "mains"),)),
        TAG,
        panels=panel(all_sources, word="danger"),
    )


def graph(rng: random.Random) -> Spec:
    """Steps nobody reaches, loops without end, a shared stage nobody asks for, links into and out of it."""
    all_sources = (mains(rng),)
    block = Stage(
        "aside",
        (
            Step(
                "listen",
                hands=LOOK,
                answers=(Answer("back"), Answer(rng.choice(("lock", "listen", "back", "lock")))),
            ),
        ),
        True,
        coin(rng, 0.2),
    )
    ask = Step("ask", do="aside", goto=rng.choice((None, None, "lock", "lock", "look")))
    first = [Step("look", hands=LOOK, goto=rng.choice((None, None, None, None, "listen", "lock", "look")))]
    first += [ask] if coin(rng, 0.8) else []
    second = (LOCK, replace(TAG, exit="tagged" if coin(rng, 0.85) else None))
    if block.in_profile:
        block = replace(block, steps=(replace(block.steps[0], answers=(Answer("back"), Answer("listen"))),))
        first[0] = replace(first[0], goto=None)
    stages = [Stage("work", tuple(first)), block, Stage("ending", second)]
    return Spec(Profile(all_sources, ()), tuple(stages))


def nested(rng: random.Random) -> Spec:
    """A shared stage that asks for another one; a return at every depth."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120))
    shown = panel(all_sources)
    inner = Stage("drain-all", (Step("drain", (wait(120 if coin(rng, 0.7) else 60),)),), True)
    order = [LOCK, Step("let-it-drain", do="drain-all")]
    outer = Stage(
        "safe", tuple(order if coin(rng, 0.7) else order[::-1]), True, panels=shown if coin(rng, 0.3) else ()
    )
    steps = (Step("make-safe", do="safe"), OPEN, proof("prove", "swap", ("mains", "cap")), SWAP, TAG)
    return Spec(
        Profile(all_sources, (LID,)),
        (inner, outer, Stage("work", steps, panels=shown if coin(rng, 0.8) else ())),
    )


DUTIES: tuple[Maker, ...] = (
    charger,
    caution_dies,
    caution_of_a_stage,
    guard_on_one_branch,
    service_without_test,
    named_tests,
    live_with_reason,
    live_restores,
    outside_proofs,
    orders,
    clear_of,
    as_found,
    graph,
    nested,
)
