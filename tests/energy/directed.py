"""Directed cases, one theme a function: places where random procedures hardly ever go wrong.

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
    live,
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
    steps = [LOCK, Step("drain", (wait(first),)), Step("clear", (CLEAR,)), POWER, again(all_sources),
             Step("drain-again", (second,)), OPEN, proof("prove", "swap", ("mains", "cap")), SWAP, TAG]
    if coin(rng, 0.3):
        steps[3] = Step("power", (eff("runs-on", "mains"),))
    return one_stage(all_sources, *steps)


def across_a_stage(rng: random.Random) -> Spec:
    """Proved in one stage, worked on in the next: a re-accumulating store is back."""
    cap = capacitor(rng, "mains", bleed=120, reaccumulates=rng.choice((True, 600, False)))
    all_sources = (mains(rng), cap)
    shown = panel(all_sources)
    first: tuple[Step, ...] = (LOCK, Step("drain", (wait(120),)), OPEN, proof("prove", "swap", ("mains", "cap")))
    second: tuple[Step, ...] = (SWAP, TAG)
    if coin(rng):
        first = (*first[:3],) if coin(rng) else first[:1]
        second = (Step("drain-more", (wait(rng.choice((60, 120))),)), *(() if len(first) == 3 else (OPEN,)),
                  proof("prove", "swap", ("mains", "cap")), *second)
    return Spec(Profile(all_sources, (LID,)), (Stage("safe", first, panels=shown), Stage("work", second, panels=shown)))


def lock_off_on_one_branch(rng: random.Random) -> Spec:
    """One answer leads over taking the lock off, the other does not; both meet again."""
    all_sources = (mains(rng),)
    decide = Step("decide", hands=LOOK, answers=(Answer("clear"), Answer("open")))
    back = coin(rng)
    steps = [LOCK, decide, Step("clear", (CLEAR,)), POWER, *([again(all_sources)] if back else []), OPEN,
             proof("prove", "swap", ("mains",)), SWAP, TAG]
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
        block_steps.append(Step("ready", hands=LOOK, answers=(Answer("back"), Answer("tag" if coin(rng) else "drain"))))
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
    steps = [Step("ease", (eff("releases", "spring"),)), OPEN, proof("prove", "swap", ("spring",), hands=said), SWAP]
    tail = [wind, CLOSE] if coin(rng, 0.4) else [CLOSE, wind]
    return one_stage((source,), *steps, *tail, trial("try", "finish", "tag"), SERVICE, TAG)


def failed_proof_goes_on(rng: random.Random) -> Spec:
    """The failing answer leads on into the work, or back to before it."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120))
    fail = rng.choice(("swap", "tag", "lock", "drain", "close", "prove"))
    steps = [replace(LOCK, hands=OUTSIDE), Step("drain", (wait(120),)), OPEN,
             proof("prove", "swap", ("mains", "cap"), fail), SWAP, CLOSE, TAG]
    return one_stage(all_sources, *steps)


def two_feeds(rng: random.Random) -> Spec:
    """A store with two feeds, of which one may be uncut."""
    all_sources = (mains(rng), mains(rng, "battery", "battery"), capacitor(rng, "mains", "battery", bleed=120))
    names = [("mains",), ("mains", "battery"), ("mains", "battery")][rng.randrange(3)]
    locks = [Step(f"lock-{n}", (eff("isolates", n),)) for n in names]
    drain = Step("drain", (wait(120),))
    steps = [*locks, drain] if coin(rng, 0.7) or len(locks) < 2 else [locks[0], drain, locks[1]]
    done = tuple(s.name for s in all_sources if s.name in (*names, "cap"))
    stage = Stage("work", (*steps, OPEN, proof("prove", "swap", done), SWAP, TAG), panels=panel(all_sources),
                  zone="box" if coin(rng) else None)
    return Spec(Profile(all_sources, (LID,), (("box", done),)), (stage,))


def charger(rng: random.Random) -> Spec:
    """Locking the charger leaves the battery live; a feed would not."""
    pack = Source("battery", "battery", "warning", lockable=coin(rng, 0.3), isolate=True)
    pack = replace(pack, charged_by=("mains",)) if coin(rng, 0.6) else replace(pack, fed_by=("mains",))
    names = ("mains", "battery") if coin(rng) else ("mains",)
    return one_stage((mains(rng), pack), Step("lock", (eff("isolates", *names),)), OPEN,
                     proof("prove", "swap", ("mains", "battery")), SWAP, TAG)


def caution_dies(rng: random.Random) -> Spec:
    """After a restore the caution has to be read again."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120))
    shown = rng.choice((panel(all_sources), panel(all_sources, "mains"), panel(all_sources, "cap"), ()))
    second = replace(again(all_sources), panels=shown, effects=(eff("isolates", "mains"), wait(120)))
    steps = [LOCK, Step("clear", (CLEAR,)), *([POWER] if coin(rng, 0.8) else []), second, OPEN,
             proof("prove", "swap", ("mains", "cap")), SWAP, TAG]
    spec = one_stage(all_sources, *steps, panels=())
    first = panel(all_sources)
    return replace(spec, panels=first) if coin(rng) else replace(
        spec, stages=(replace(spec.stages[0], panels=first),))


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
        second = (replace(SWAP, hands=None), Step("more", hands=LOOK, answers=(Answer("prove"), Answer("tag"))), TAG)
    stages = (Stage("safe", first, panels=shown if where in ("first", "both") else ()),
              Stage("work", second, panels=shown if where in ("second", "both") else ()))
    return Spec(Profile(all_sources, (LID,)), stages, shown if where == "document" else ())


def not_zero_names_one(rng: random.Random) -> Spec:
    """The failing answers name one source each: what the others are then."""
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=120), spring(rng, release_from="outside"))
    to = [rng.choice(("tag", "tag", "lock", "lock", "drain", "ease", "swap", "prove")) for _ in range(3)]
    names = ("mains", "cap", "spring")
    answers = (Answer("swap"), *(Answer(t, (n,)) for t, n in zip(to, names, strict=True)))
    steps = [replace(LOCK, hands=OUTSIDE), Step("drain", (wait(120),)),
             Step("ease", (eff("releases", "spring"),), hands=OUTSIDE), OPEN,
             Step("prove", (Effect("proves", names),), answers=answers), SWAP, TAG]
    return one_stage(all_sources, *steps)


def wait_in_parts(rng: random.Random) -> Spec:
    """The bleeding time is split over steps; a loop or a branch may shorten it."""
    need = rng.choice((120, 240))
    cut = rng.choice((need // 2, need // 3))
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=need))
    ask = Step("ask", hands=LOOK, answers=(Answer(rng.choice(("rest", "open", "tag"))),
                                           Answer(rng.choice(("part", "lock", "rest")))))
    steps = [LOCK, Step("part", (wait(cut),)), *([ask] if coin(rng) else []),
             Step("rest", (wait(need - cut if coin(rng, 0.8) else cut // 2, rng.choice((0, need))),)), OPEN,
             proof("prove", "swap", ("mains", "cap")), SWAP, TAG]
    return one_stage(all_sources, *steps)


def guard_on_one_branch(rng: random.Random) -> Spec:
    """One branch forgets the guard; power, work at the controls and the exit notice."""
    all_sources = (mains(rng),)
    branch = Step("decide", hands=LOOK, answers=(Answer("close"), Answer("clear" if coin(rng) else "close")))
    steps = [LOCK, OPEN, proof("prove", "swap", ("mains",)), SWAP, branch, CLOSE, Step("clear", (CLEAR,)), POWER,
             trial("try", "finish", "relock"), SERVICE, Step("relock", (eff("isolates", "mains"),)), TAG]
    if coin(rng, 0.2):
        steps[7] = Step("power", hands=OUTSIDE if coin(rng) else Hands("away"))
    return one_stage(all_sources, *steps)


def service_without_test(rng: random.Random) -> Spec:
    """An exposure after the test, or a branch round it."""
    all_sources = (mains(rng),)
    shown = panel(all_sources, word="danger")
    test = trial("try", "check", "relock")
    check = Step("check", hands=rng.choice((LOOK, OUTSIDE, live("mains"), Hands("open"))),
                 panels=shown if coin(rng) else ())
    skip = Step("decide", hands=LOOK, answers=(Answer("try"), Answer("finish" if coin(rng) else "relock")))
    steps = [test, check, *([skip] if coin(rng) else []), SERVICE, Step("relock", (eff("isolates", "mains"),)), TAG]
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
    first = [Step("lock", (eff("isolates", *other),)), proof("prove", "trim", tuple(other), "lock-up")] if coin(rng, 0.7) else []
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
    return one_stage(all_sources, Step("lock", (eff("isolates", *locks),)), *steps, SWAP, TAG,
                     panels=None if coin(rng, 0.7) else ())


def orders(rng: random.Random) -> Spec:
    """Orders of the profile: hold the boom before the spring is let go, power before the pin comes out."""
    boom = mains(rng, "gravity", "gravity", needs_restores=("mains",) if coin(rng) else ())
    source = spring(rng, release_from="outside", needs_releases=rng.choice((("gravity",), ("gravity", "mains"), ())))
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


def back_after_a_time(rng: random.Random) -> Spec:
    """It is back after a time: one long wait, two short ones, a range, a loop."""
    back = rng.choice((120, 300))
    all_sources = (mains(rng), capacitor(rng, "mains", bleed=60, reaccumulates=back))
    first = wait(rng.choice((60, 60, 60, 60, 60 + back, 90 + back)))
    pause = [Step("pause", (wait(rng.choice((back, back // 2, back // 2, back + 30)), rng.choice((0, 0, 0, back + 60))),))]
    pause += [Step("pause-more", (wait(back // 2),))] if coin(rng, 0.4) else []
    more = [proof("prove-again", "swap", ("mains", "cap"))] if coin(rng, 0.2) else []
    then = "prove-again" if more else "swap"
    loop = [Step("ask", hands=LOOK, answers=(Answer("pause" if coin(rng, 0.6) else "drain"), Answer(then)))]
    steps = [LOCK, Step("drain", (first,)), OPEN, proof("prove", "pause", ("mains", "cap")), *pause,
             *(loop if coin(rng, 0.25) else []), *more]
    return one_stage(all_sources, *steps, SWAP, TAG)


def clear_of(rng: random.Random) -> Spec:
    """A source explained away on a stage or a step, also where a step acts on it."""
    all_sources = (mains(rng), mains(rng, "battery", "battery"))
    acted = ("mains", "battery") if coin(rng) else ("mains",)
    steps = [Step("lock", (eff("isolates", *acted),)), OPEN, proof("prove", "swap", rng.choice((("mains",), acted))),
             SWAP, TAG]
    stage = Stage("work", tuple(steps), panels=panel(all_sources, *acted), clear_of=("battery",))
    if coin(rng):
        steps[3] = replace(SWAP, clear_of=("battery",) if coin(rng, 0.8) else ("mains",))
        stage = replace(stage, steps=tuple(steps), clear_of=() if coin(rng) else ("battery",))
    return Spec(Profile(all_sources, (LID,)), (stage,))


def as_found(rng: random.Random) -> Spec:
    """Left as found: looking and running keep it, locking, opening and restoring end it."""
    all_sources = (mains(rng),)
    middle = rng.choice((Step("run", (eff("runs-on", "mains"),)), LOCK, OPEN, Step("look-in", hands=live("mains")),
                         Step("try", hands=LOOK), Step("drain", (wait(60),)), Step("again", (CLEAR,))))
    decide = Step("decide", hands=LOOK, answers=(Answer("leave"), Answer("lock-up")))
    return one_stage(all_sources, Step("look", hands=LOOK), *([middle] if coin(rng, 0.8) else []), decide,
                     Step("leave", exit="found"), Step("lock-up", (eff("isolates", "mains"),)), TAG,
                     panels=panel(all_sources, word="danger"))


def graph(rng: random.Random) -> Spec:
    """Steps nobody reaches, loops without end, a shared stage nobody asks for, links into and out of it."""
    all_sources = (mains(rng),)
    block = Stage("aside", (Step("listen", hands=LOOK, answers=(
        Answer("back"), Answer(rng.choice(("lock", "listen", "back", "lock"))))),), True, coin(rng, 0.2))
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
    outer = Stage("safe", tuple(order if coin(rng, 0.7) else order[::-1]), True, panels=shown if coin(rng, 0.3) else ())
    steps = (Step("make-safe", do="safe"), OPEN, proof("prove", "swap", ("mains", "cap")), SWAP, TAG)
    return Spec(Profile(all_sources, (LID,)), (inner, outer, Stage("work", steps, panels=shown if coin(rng, 0.8) else ())))


DIRECTED: tuple[Maker, ...] = (
    waited_then_restored, across_a_stage, lock_off_on_one_branch, shared_twice, two_releases, inside_while_loading,
    failed_proof_goes_on, two_feeds, charger, caution_dies, caution_of_a_stage, not_zero_names_one, wait_in_parts,
    guard_on_one_branch, service_without_test, named_tests, live_with_reason, live_restores, outside_proofs, orders,
    back_after_a_time, clear_of, as_found, graph, nested)
