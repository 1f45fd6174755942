"""Directed cases that were added because a bug seeded into the engine was missed, or hardly noticed, without them."""

from __future__ import annotations

import random
from dataclasses import replace

from .directed import CLOSE, LOCK, OPEN, POWER, SWAP, Maker, coin
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

RELOCK = Step("relock", (eff("isolates", "mains"),))


def fluid(rng: random.Random, **fields: object) -> Source:
    """A store with a valve of its own."""
    return mains(rng, "fluid", "hydraulic", **fields)


def drained_by_itself(rng: random.Random) -> Spec:
    """A store without a feed drains once its own valve is shut; opened and shut again it drains anew."""
    need = rng.choice((60, 120))
    store = fluid(rng, release="bleed", bleed=need)
    lock = Step("lock", (eff("isolates", "fluid"),))
    steps = [lock, Step("drain", (wait(need if coin(rng, 0.7) else need // 2),)), Step("clear", (CLEAR,))]
    steps += [Step("power", (eff("restores", "fluid"),)), replace(lock, slug="again", panels=panel((store,)))]
    more = rng.choice((0, need // 2, need))
    steps += [Step("drain-again", (wait(more),))] if more else []
    return one_stage((store,), *steps, OPEN, proof("prove", "swap", ("fluid",)), SWAP, TAG)


def half_drained_before_a_heading(rng: random.Random) -> Spec:
    """Half the time is waited in one stage, the rest in the next: what builds up again begins anew."""
    cap = capacitor(rng, "mains", bleed=120, reaccumulates=coin(rng, 0.7))
    all_sources = (mains(rng), cap)
    more = Step("drain-more", (wait(60 if coin(rng, 0.7) else 120),))
    first = Stage("safe", (LOCK, Step("drain", (wait(60),))))
    second = Stage(
        "work", (more, OPEN, proof("prove", "swap", ("mains", "cap")), SWAP, TAG), panels=panel(all_sources)
    )
    return Spec(Profile(all_sources, (LID,)), (first, second))


def fed_through_another(rng: random.Random) -> Spec:
    """The mains feed a tank, the tank feeds a line: cut, let go, perhaps powered again, proved or not."""
    tank = Source("tank", "pressure", "warning", fed_by=("mains",))
    line = Source("line", "pneumatic", "warning", fed_by=("tank",), release="action", release_from="outside")
    all_sources = (mains(rng), tank, line)
    ease = Step("ease", (eff("releases", "line"),))
    steps = [LOCK, ease] if coin(rng, 0.8) else [ease, LOCK]
    if coin(rng):
        steps += [Step("clear", (CLEAR,)), POWER, replace(RELOCK, panels=panel(all_sources))]
        steps += [replace(ease, slug="ease-again")] if coin(rng) else []
    names = ("mains", "tank", "line") if coin(rng, 0.7) else ("mains", "tank")
    return one_stage(all_sources, *steps, OPEN, proof("prove", "swap", names), SWAP, TAG)


def one_fails_of_two(rng: random.Random) -> Spec:
    """Each of two sources has its failing answer; after one failed, both have to be proved again, not it alone."""
    names = ("mains", "battery")
    answers = (Answer("swap"), Answer("relock", ("mains",)), Answer("tag", ("battery",)))
    again = proof("prove-again", "swap", names if coin(rng) else ("mains",))
    return one_stage(
        (mains(rng), mains(rng, "battery", "battery")),
        Step("lock", (eff("isolates", *names),)),
        OPEN,
        Step("prove", (eff("proves", *names),), answers=answers),
        replace(RELOCK, hands=OUTSIDE),
        again,
        SWAP,
        TAG,
    )


def locked_in_the_failed_step(rng: random.Random) -> Spec:
    """One step locks the battery and proves the mains; where that proof fails, the battery is to be locked again."""
    all_sources = (mains(rng, prove_from="outside"), mains(rng, "battery", "battery"))
    answers = (Answer("open"), Answer("relock", ("mains",)))
    names = ("mains", "battery") if coin(rng) else ("mains",)
    return one_stage(
        all_sources,
        LOCK,
        Step("lock-and-prove", (eff("isolates", "battery"), eff("proves", "mains")), answers=answers),
        Step("relock", (eff("isolates", *names),)),
        OPEN,
        proof("prove", "swap", ("mains", "battery")),
        SWAP,
        TAG,
    )


def feed_loaded(rng: random.Random) -> Spec:
    """Loading the feed fills the store again, though the feed is locked once more."""
    line = Source("line", "pneumatic", "warning", fed_by=("mains",), release="action", release_from="outside")
    ease = Step("ease", (eff("releases", "line"),))
    steps = [LOCK, ease, Step("pump", (eff("loads", rng.choice(("mains", "line"))),))]
    steps += [RELOCK] if coin(rng, 0.8) else []
    steps += [replace(ease, slug="ease-again")] if coin(rng) else []
    return one_stage((mains(rng), line), *steps, OPEN, proof("prove", "swap", ("mains", "line")), SWAP, TAG)


def held_before_let_go(rng: random.Random) -> Spec:
    """The boom is held before the spring is let go, or after it, or the profile has no such order."""
    boom = replace(mains(rng, "gravity", "gravity"), lockable=coin(rng))
    order = ("gravity",) if coin(rng, 0.7) else ()
    source = spring(rng, release_from="outside", needs_releases=order)
    steps = [Step("lock", (eff("isolates", "gravity"),)), Step("ease", (eff("releases", "spring"),))]
    steps = steps if coin(rng) else steps[::-1]
    return one_stage((boom, source), *steps, OPEN, proof("prove", "swap", ("gravity", "spring")), SWAP, TAG)


def put_back_twice(rng: random.Random) -> Spec:
    """One step puts the same source back twice: the second time there is no hold of ours."""
    both = (eff("restores", "mains"),) * (2 if coin(rng) else 1)
    steps = [LOCK, Step("clear", (CLEAR,)), Step("power", both), trial("try", "finish", "relock")]
    return one_stage((mains(rng),), *steps, SERVICE, RELOCK, TAG)


def put_back_at_once(rng: random.Random) -> Spec:
    """A feed and what it feeds, which has a valve of its own: put back at once, or one after the other."""
    line = Source("line", "pneumatic", "warning", lockable=True, isolate=True, fed_by=("mains",))
    lock = Step("lock", (eff("isolates", "mains", "line"),))
    power = [POWER, Step("power-line", (eff("restores", "line"),))]
    power = [Step("power", (eff("restores", "mains", "line"),))] if coin(rng) else power
    steps = [lock, Step("clear", (CLEAR,)), *power, trial("try", "finish", "relock")]
    return one_stage((mains(rng), line), *steps, SERVICE, replace(lock, slug="relock"), TAG)


def warned_in_the_shared_stage(rng: random.Random) -> Spec:
    """The caution stands in the shared stage where hands go in, or at the caller, or nowhere."""
    all_sources = (mains(rng),)
    shown = panel(all_sources)
    block = Stage("aside", (LOCK, OPEN), True, coin(rng, 0.3), panels=shown if coin(rng, 0.7) else ())
    prove = proof("prove", "swap", ("mains",), panels=shown if coin(rng, 0.8) else ())
    main = Stage("work", (Step("ask", do="aside"), prove, SWAP, TAG))
    main = replace(main, panels=shown) if coin(rng, 0.3) else main
    return Spec(Profile(all_sources, (LID,)), (block, main) if coin(rng) else (main, block))


def discharge_without_guards(rng: random.Random) -> Spec:
    """Nothing to open: tools go in while another store drains, or one that is let go later stands charged."""
    store = rng.choice(
        (capacitor(rng, "mains", bleed=60), fluid(rng, release="action", release_from="inside"))
    )
    names = ("mains", "fluid") if store.name == "fluid" else ("mains",)
    let_go = Step("let-go", (eff("releases", rng.choice(("spring", store.name))),))
    rest = [Step("drain", (wait(60),)), Step("let-go-rest", (eff("releases", "spring", store.name),))]
    rest = rest[::-1] if coin(rng, 0.3) else rest
    steps = [Step("lock", (eff("isolates", *names),)), let_go, *rest]
    steps = [steps[0], *rest, let_go] if coin(rng, 0.3) else steps
    prove = proof("prove", "tag", ("mains", store.name, "spring"))
    return one_stage((mains(rng), store, spring(rng)), *steps, prove, TAG, guards=())


def meter_without_guards(rng: random.Random) -> Spec:
    """A meter goes in while the source runs, in its zone or in another."""
    zone = rng.choice((None, "near", "far"))
    act = rng.choice(((eff("runs-on", "mains"),), (eff("loads", "spring"),), (eff("releases", "spring"),)))
    meter = Step("meter", act, hands=Hands("probe", True), zone=zone)
    spec = one_stage((mains(rng), spring(rng)), *([LOCK] if coin(rng, 0.3) else []), meter, RELOCK, TAG)
    zones = (("near", ("mains", "spring")), ("far", ("spring",)))
    return replace(spec, profile=replace(spec.profile, guards=(), zones=zones))


def out_of_a_shared_stage(rng: random.Random) -> Spec:
    """A shared stage is left for good into the stage that asked, or into the next, which is a boundary."""
    cap = capacitor(rng, "mains", bleed=60, reaccumulates=coin(rng, 0.7))
    all_sources = (mains(rng), cap)
    shown = panel(all_sources)
    ready = (
        LOCK,
        Step("drain", (wait(60),)),
        OPEN,
        proof("prove", "ask", ("mains", "cap")),
        Step("ask", do="aside"),
    )
    block = Stage(
        "aside",
        (Step("listen", hands=LOOK, answers=(Answer("tag"), Answer("swap"), Answer("back"))),),
        True,
    )
    first, last = Stage("safe", (*ready, SWAP, TAG), panels=shown), ()
    if coin(rng):
        first = replace(first, steps=(*ready, replace(TAG, slug="tag-here")))
        last = (Stage("work", (SWAP, TAG), panels=shown),)
    return Spec(Profile(all_sources, (LID,)), (first, *last, block))


def asks_for_itself(rng: random.Random) -> Spec:
    """A shared stage asks for itself, straight or through another."""
    deep = rng.choice((None, "aside", "outer"))
    listen = Step("listen", hands=LOOK)
    block = Stage("aside", (listen, Step("more", do=deep)) if deep else (listen,), True)
    outer = Stage("outer", (Step("feel", hands=LOOK), Step("ask-on", do="aside")), True)
    return Spec(
        Profile((mains(rng),), ()), (Stage("work", (Step("ask", do="outer"), LOCK, TAG)), outer, block)
    )


def narrow_zone(rng: random.Random) -> Spec:
    """Only what can be reached is locked; the zone stands at the stage, at each step, or nowhere."""
    all_sources = (mains(rng), replace(mains(rng, "battery", "battery"), lockable=False))
    where = rng.choice(("stage", "steps", "some", "nowhere"))
    steps = (LOCK, OPEN, proof("prove", "swap", ("mains",)), SWAP, TAG)
    if where in ("steps", "some"):
        steps = tuple(replace(s, zone="box") if where == "steps" or s is SWAP else s for s in steps)
    spec = one_stage(all_sources, *steps)
    stage = replace(spec.stages[0], zone="box" if where == "stage" else None)
    return replace(spec, profile=replace(spec.profile, zones=(("box", ("mains",)),)), stages=(stage,))


def explained_away(rng: random.Random) -> Spec:
    """A wall stands before the battery; a step that locks the mains says that they can't be reached either."""
    all_sources = (mains(rng), replace(mains(rng, "battery", "battery"), lockable=False))
    steps = (replace(LOCK, clear_of=("mains",) if coin(rng, 0.4) else ()), OPEN)
    spec = one_stage(all_sources, *steps, proof("prove", "swap", ("mains",)), SWAP, TAG)
    stage = replace(spec.stages[0], clear_of=("battery",) if coin(rng, 0.8) else ("mains", "battery"))
    return replace(spec, stages=(stage,))


def marks_forgotten(rng: random.Random) -> Spec:
    """A decision with one answer; a test without a failing answer; a last step that is no exit."""
    test = trial("try", "finish", "lock")
    test = replace(test, answers=(test.answers[0], Answer("lock"))) if coin(rng, 0.3) else test
    look = Step("look", hands=LOOK, answers=(Answer("try"), Answer("lock"))[: 1 if coin(rng, 0.3) else 2])
    last = Step("tag", hands=LOOK) if coin(rng, 0.2) else TAG
    return one_stage((mains(rng),), look, test, SERVICE, LOCK, last)


def cleared_too_early(rng: random.Random) -> Spec:
    """People are cleared, hands go in once more, power comes back."""
    early, late = coin(rng), coin(rng, 0.4)
    steps = [LOCK, OPEN, proof("prove", "clear" if early else "swap", ("mains",))]
    steps += [Step("clear", (CLEAR,))] if early else []
    close = Step("close", (eff("refits", LID),), hands=None)
    steps += [SWAP, CLOSE if late else close, POWER, trial("try", "finish", "relock")]
    return one_stage((mains(rng),), *steps, SERVICE, RELOCK, TAG)


def locked_again(rng: random.Random) -> Spec:
    """Locking once more changes nothing; locking alone lets nothing go."""
    store = fluid(rng, release="action", release_from=rng.choice(("inside", "outside")))
    lock = Step("lock", (eff("isolates", "fluid"),))
    let_go = [Step("let-go", (eff("releases", "fluid"),))] if coin(rng, 0.6) else []
    outside = store.release_from == "outside"
    steps = [lock, *let_go, OPEN] if outside else [lock, OPEN, *let_go]
    relock = replace(lock, slug="relock", hands=OUTSIDE)
    steps += (
        [proof("prove", "relock", ("fluid",)), relock] if coin(rng) else [proof("prove", "swap", ("fluid",))]
    )
    return one_stage((store,), *steps, SWAP, TAG)


def live_at_a_mild_word(rng: random.Random) -> Spec:
    """Energised work where the profile's word is caution asks for a warning, not for danger."""
    source = replace(mains(rng), word=rng.choice(("caution", "caution", "warning")))
    shown = panel((source,), word=rng.choice(("caution", "warning", "danger")))
    return one_stage((source,), Step("trim", hands=live("mains"), panels=shown), LOCK, TAG, panels=())


MORE: tuple[Maker, ...] = (
    drained_by_itself,
    half_drained_before_a_heading,
    fed_through_another,
    one_fails_of_two,
    locked_in_the_failed_step,
    feed_loaded,
    held_before_let_go,
    put_back_twice,
    put_back_at_once,
    warned_in_the_shared_stage,
    discharge_without_guards,
    meter_without_guards,
    out_of_a_shared_stage,
    asks_for_itself,
    narrow_zone,
    explained_away,
    marks_forgotten,
    cleared_too_early,
    locked_again,
    live_at_a_mild_word,
)
