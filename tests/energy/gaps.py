"""Directed cases that were added because a fault seeded into the oracle was hardly noticed without them."""

from __future__ import annotations

import random
from dataclasses import replace

from .directed import LOCK, OPEN, POWER, SWAP, Maker, coin
from .parts import (
    CLEAR,
    LID,
    LOOK,
    OUTSIDE,
    SERVICE,
    TAG,
    eff,
    mains,
    one_stage,
    panel,
    proof,
    spring,
    trial,
    wait,
)
from .spec import Answer, Effect, Hands, Source, Spec, Stage, Step


def excuses(rng: random.Random) -> Spec:
    """With the lid off, hands away or at the controls: who has to say why."""
    odd = rng.choice(
        (
            Step("odd", (wait(60),)),
            Step("odd", (CLEAR,)),
            Step("odd", (CLEAR, wait(60))),
            Step("odd", (eff("isolates", "mains"),)),
            Step("odd", (eff("isolates", "mains"),), hands=OUTSIDE),
            Step("odd", hands=LOOK),
            Step("odd", hands=replace(LOOK, reason=False)),
            Step(
                "odd",
                (Effect("tests", ("function",)), wait(60)),
                answers=(Answer("tag"), Answer("tag", None, True)),
            ),
        )
    )
    tag = rng.choice((TAG, replace(TAG, effects=(eff("isolates", "mains"),))))
    return one_stage((mains(rng),), LOCK, OPEN, odd, tag)


def lid_and_power(rng: random.Random) -> Spec:
    """Guards, clearing and power in one step or in the wrong order."""
    all_sources = (mains(rng),)
    close = rng.choice(((eff("refits", LID), CLEAR), (CLEAR, eff("refits", LID)), (eff("refits", LID),)))
    tail = [Step("close", close)]
    if coin(rng, 0.3):
        tail = [Step("clear", (CLEAR,)), Step("close", (eff("refits", LID),))]
    power = rng.choice((POWER, POWER, Step("power", (CLEAR, eff("restores", "mains")))))
    return one_stage(
        all_sources,
        LOCK,
        OPEN,
        proof("prove", "swap", ("mains",)),
        SWAP,
        *tail,
        power,
        trial("try", "finish", "relock"),
        SERVICE,
        Step("relock", (eff("isolates", "mains"),)),
        TAG,
    )


def power_with_the_lid_off(rng: random.Random) -> Spec:
    """Power is put back with the lid off, from outside and with a reason, and locked again."""
    said = OUTSIDE if coin(rng, 0.8) else None
    close = [Step("close", (eff("refits", LID),))] if coin(rng) else []
    return one_stage(
        (mains(rng),),
        LOCK,
        OPEN,
        *close,
        Step("clear", (CLEAR,)),
        replace(POWER, hands=said),
        Step("relock", (eff("isolates", "mains"),), hands=said),
        TAG,
    )


def failed_store(rng: random.Random) -> Spec:
    """A fed store fails its proof: with the feeds cut it stands isolated, not live, so one may look in."""
    line = Source(
        "line",
        "pneumatic",
        "warning",
        fed_by=("mains",),
        release="action",
        release_from=rng.choice(("inside", "inside", "outside")),
    )
    marks = rng.choice((("line",), ("line",), (), ("mains",)))
    answers = (Answer("swap"), Answer("peer", marks))
    peer = Step(
        "peer", hands=rng.choice((Hands("open"), Hands("probe"), LOOK)), goto=rng.choice((None, "let-go"))
    )
    let_go = Step("let-go", (eff("releases", "line"),))
    steps = [
        LOCK,
        *([let_go] if line.release_from == "outside" else []),
        OPEN,
        *([let_go] if line.release_from == "inside" else []),
        Step("prove", (eff("proves", "mains", "line"),), answers=answers),
        SWAP,
        TAG,
        peer,
        replace(TAG, slug="tag-it"),
    ]
    return one_stage((mains(rng), line), *(steps if peer.goto is None else steps[:-1]))


def peeking(rng: random.Random) -> Spec:
    """Undoing a guard over one store only, with its feed cut or not, and closing it again."""
    line = Source(
        "line",
        "pneumatic",
        "warning",
        fed_by=("mains",),
        release="action",
        release_from=rng.choice(("inside", "inside", "outside")),
    )
    spec = one_stage(
        (replace(mains(rng), lockable=coin(rng, 0.3)), line),
        *([LOCK] if coin(rng) else []),
        OPEN,
        Step("close", (eff("refits", LID),)),
        TAG,
    )
    return replace(
        spec,
        profile=replace(spec.profile, zones=(("pipe", ("line",)),)),
        stages=(replace(spec.stages[0], zone="pipe"),),
    )


def spring_to_service(rng: random.Random) -> Spec:
    """Nothing to lock: let the spring go, work, load it again, test, back to service; a guard may be off."""
    source = spring(rng, release_from="outside")
    close = [Step("close", (eff("refits", LID),))] if coin(rng, 0.6) else []
    test = replace(trial("try", "finish", "tag"), hands=OUTSIDE)
    wind = [Step("wind", (eff("loads", "spring"),), hands=OUTSIDE)] if coin(rng) else []
    return one_stage(
        (source,),
        Step("ease", (eff("releases", "spring"),)),
        OPEN,
        proof("prove", "swap", ("spring",)),
        SWAP,
        *wind,
        *close,
        test,
        SERVICE,
        TAG,
    )


def eased_too_early(rng: random.Random) -> Spec:
    """A fed store is let go before, or after, its feeds are cut; perhaps twice."""
    line = Source("line", "pneumatic", "warning", fed_by=("mains",), release="action", release_from="outside")
    ease = Step("ease", (eff("releases", "line"),))
    steps = rng.choice(([ease, LOCK], [LOCK, ease], [ease, LOCK, replace(ease, slug="ease-again")]))
    return one_stage((mains(rng), line), *steps, OPEN, proof("prove", "swap", ("mains", "line")), SWAP, TAG)


def restored_but_not_ours(rng: random.Random) -> Spec:
    """Power on from somebody else's half-finished job, or from our own lock."""
    locked = [LOCK] if coin(rng) else []
    ready = [Step("clear", (CLEAR,))] if coin(rng, 0.8) else []
    return one_stage(
        (mains(rng),),
        *locked,
        *ready,
        POWER,
        trial("try", "finish", "relock"),
        SERVICE,
        Step("relock", (eff("isolates", "mains"),)),
        TAG,
    )


def into_a_shared_stage(rng: random.Random) -> Spec:
    """A link into a shared stage from outside, or out of it for good; the stage is asked for too."""
    to = rng.choice(("listen", "ask", "lock"))
    out = rng.choice(("back", "back", "lock", "tag"))
    block = Stage(
        "aside",
        (Step("feel", hands=LOOK), Step("listen", hands=LOOK, answers=(Answer("back"), Answer(out)))),
        True,
    )
    steps = (
        Step("look", hands=LOOK, answers=(Answer("ask"), Answer(to))),
        Step("ask", do="aside"),
        LOCK,
        TAG,
    )
    spec = one_stage((mains(rng),), *steps)
    return replace(spec, stages=(block, *spec.stages) if coin(rng) else (*spec.stages, block))


def one_proved_again(rng: random.Random) -> Spec:
    """One proof of two fails and is done again alone: the other was not proved by the failed one."""
    names = ("mains", "battery")
    mark = rng.choice((("mains",), ("battery",), ()))
    alone = rng.choice((("mains",), ("battery",), names))
    relock = Step("relock", (eff("isolates", *rng.choice((("mains",), ("battery",), names))),), hands=OUTSIDE)
    steps = [
        Step("lock", (eff("isolates", *names),)),
        OPEN,
        proof("prove", "swap", names, "relock"),
        relock,
        proof("prove-again", "swap", alone),
        SWAP,
        TAG,
    ]
    steps[2] = replace(steps[2], answers=(Answer("swap"), Answer("relock", mark)))
    return one_stage((mains(rng), mains(rng, "battery", "battery")), *steps)


def acted_on_though_clear(rng: random.Random) -> Spec:
    """The stage is clear of a source that a step proves, runs or lets go: there it counts, with its caution."""
    all_sources = (mains(rng), mains(rng, "battery", "battery"))
    shown = panel(all_sources) if coin(rng) else panel(all_sources, "mains")
    prove = proof("prove", "swap", ("mains", "battery") if coin(rng, 0.7) else ("mains",))
    spec = one_stage(
        all_sources,
        Step("lock", (eff("isolates", "mains", "battery"),)),
        OPEN,
        prove,
        SWAP,
        TAG,
        panels=shown,
    )
    if coin(rng, 0.2):
        return replace(
            spec,
            stages=(
                replace(
                    spec.stages[0],
                    steps=tuple(
                        replace(s, clear_of=("battery",)) if s is prove else s for s in spec.stages[0].steps
                    ),
                ),
            ),
        )
    return replace(spec, stages=(replace(spec.stages[0], clear_of=("battery",)),))


def restored_in_a_shared_stage(rng: random.Random) -> Spec:
    """A shared stage takes the lock off and puts it on again: the caller's caution is gone, a document's too."""
    all_sources = (mains(rng),)
    shown = panel(all_sources)
    power = [Step("clear", (CLEAR,)), POWER] if coin(rng, 0.7) else [Step("clear", (CLEAR,))]
    relock = Step("relock", (eff("isolates", "mains"),), panels=shown if coin(rng, 0.3) else ())
    block = Stage("aside", (*power, relock), True, panels=shown if coin(rng, 0.3) else ())
    steps = (
        LOCK,
        Step("ask", do="aside"),
        replace(OPEN, panels=shown if coin(rng, 0.3) else ()),
        proof("prove", "swap", ("mains",)),
        SWAP,
        TAG,
    )
    spec = one_stage(all_sources, *steps)
    spec = replace(spec, stages=(*spec.stages, block))
    return spec if coin(rng, 0.7) else replace(spec, panels=shown)


def endless_branch(rng: random.Random) -> Spec:
    """One answer leads out, the other into a loop that may have no way out."""
    out = rng.choice((Answer("tag"), Answer("listen"), Answer("wait")))
    return one_stage(
        (mains(rng),),
        LOCK,
        Step("ask", hands=LOOK, answers=(Answer("tag"), Answer("listen"))),
        TAG,
        Step("listen", hands=LOOK),
        Step("wait", (wait(60),), goto=None if coin(rng) else "listen"),
        Step("feel", hands=LOOK, answers=(Answer("listen"), out)),
    )


GAPS: tuple[Maker, ...] = (
    excuses,
    lid_and_power,
    power_with_the_lid_off,
    failed_store,
    peeking,
    spring_to_service,
    eased_too_early,
    restored_but_not_ours,
    into_a_shared_stage,
    one_proved_again,
    acted_on_though_clear,
    restored_in_a_shared_stage,
    endless_branch,
)
