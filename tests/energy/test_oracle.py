"""Tiny hand-written cases with answers worked out by hand from the policy table; they judge the oracle itself."""

from __future__ import annotations

from dataclasses import replace

import pytest

from .oracle import judge, violations
from .spec import Answer, Effect, Hands, Panel, Profile, Source, Spec, Stage, Step, well_formed

MAINS = Source("mains", "mains", lockable=True, isolate=True)
CAP = Source("cap", "capacitor", fed_by=("mains",), release="bleed", bleed=300)
SPRING = Source("spring", "spring", release="action")
LOOK, REASON = Hands("away", True), Hands("controls", True)
ISO, REST = Effect("isolates", ("mains",)), Effect("restores", ("mains",))
PROVE, REMOVE, REFIT = Effect("proves", ("mains",)), Effect("removes", ("lid",)), Effect("refits", ("lid",))
CLEAR, TEST = Effect("all-clear"), Effect("tests", ("function",))
ALL = Panel("warning", ("mains", "cap", "spring"))
TAG = Step("tag", exit="tagged")
SERVICE = Step("finish", exit="service")


def case(
    *steps: Step,
    sources: tuple[Source, ...] = (MAINS,),
    guards: tuple[str, ...] = ("lid",),
    panels: bool = True,
    tag: bool = True,
) -> Spec:
    """One stage with all panels, and the tag step behind the last step."""
    known = {s.name for s in sources}
    panel = Panel(ALL.word, tuple(n for n in ALL.sources if n in known))
    stage = Stage("work", (*steps, *((TAG,) if tag else ())), panels=(panel,) if panels else ())
    return Spec(Profile(sources, guards), (stage,))


def proof(slug: str, on: str, *names: str) -> Step:
    """A proof whose failing answer leads to the tag."""
    return Step(slug, (Effect("proves", names),), answers=(Answer(on), Answer("tag", ())))


SOUND = (
    Step("lock", (ISO,)),
    Step("open", (REMOVE,)),
    proof("prove", "swap", "mains"),
    Step("swap"),
    Step("close", (REFIT, CLEAR)),
    Step("power", (REST,)),
    Step("try", (TEST,), answers=(Answer("finish"), Answer("relock", None, True))),
    SERVICE,
    Step("relock", (ISO,)),
)


def without(slug: str, *kinds: str, steps: tuple[Step, ...] = SOUND) -> tuple[Step, ...]:
    """The steps with some effects of one step left out."""
    return tuple(
        replace(s, effects=tuple(e for e in s.effects if e.kind not in kinds)) if s.slug == slug else s
        for s in steps
    )


def put(slug: str, new: Step, steps: tuple[Step, ...] = SOUND) -> tuple[Step, ...]:
    """The steps with one replaced."""
    return tuple(new if s.slug == slug else s for s in steps)


def cap_case(seconds: int, *extra: Step) -> Spec:
    """Lock, wait, prove both, work."""
    return case(
        Step("lock", (ISO,)),
        Step("drain", (Effect("wait", (), seconds),)),
        *extra,
        Step("open", (REMOVE,)),
        proof("prove", "swap", "mains", "cap"),
        Step("swap"),
        sources=(MAINS, CAP),
    )


LIVE = Step("trim", hands=Hands("live", True, ("mains",)), panels=(Panel("danger", ("mains",)),))
TWO_SPRINGS = (SPRING, replace(SPRING, name="other"))

CASES: list[tuple[str, Spec, set[tuple[str, str, str | None]]]] = [
    ("a sound replacement", case(*SOUND), set()),
    (
        "no lock",
        case(*without("lock", "isolates"), tag=True),
        {
            ("lock", "exposure", "mains"),
            ("open", "exposure", "mains"),
            ("prove", "prove", "mains"),
            ("swap", "exposure", "mains"),
            ("close", "exposure", "mains"),
            ("power", "restore-hold", "mains"),
            ("tag", "exit-unheld", "mains"),
        },
    ),
    ("proof left out", case(*put("prove", Step("prove", hands=LOOK))), {("swap", "exposure", "mains")}),
    (
        "guard left off",
        case(*without("close", "refits")),
        {
            ("power", "restore-guards", None),
            ("finish", "exit-guard", None),
            ("try", "reason", None),
            ("power", "reason", None),
            ("relock", "reason", None),
        },
    ),
    ("people not clear", case(*without("close", "all-clear")), {("power", "restore-clear", None)}),
    ("not restored", case(*put("power", Step("power", hands=LOOK))), {("finish", "exit-hold", "mains")}),
    (
        "not tested",
        case(*put("try", Step("try", hands=LOOK))),
        {("finish", "exit-untested", None), ("relock", "unreachable", None)},
    ),
    (
        "no panel",
        case(*SOUND, panels=False),
        {(s, "caution", "mains") for s in ("open", "prove", "swap", "close")},
    ),
    (
        "cautions die when power is back",
        case(
            *put(
                "try",
                replace(
                    SOUND[6],
                    answers=(Answer("finish"), Answer("lock", None, True), Answer("relock", None, True)),
                ),
            )
        ),
        {(s, "caution", "mains") for s in ("open", "prove", "swap", "close")},
    ),
    ("wait long enough", cap_case(300), set()),
    ("wait adds up", cap_case(200, Step("more", (Effect("wait", (), 100),))), set()),
    (
        "wait too short",
        cap_case(299),
        {("open", "exposure", "cap"), ("prove", "prove", "cap"), ("swap", "exposure", "cap")},
    ),
    ("only looking", case(Step("look", hands=LOOK), Step("found", exit="found"), tag=False), set()),
    (
        "opening is not looking",
        case(Step("lock", (ISO,)), Step("look", hands=LOOK), Step("found", exit="found"), tag=False),
        {("found", "exit-touched", None), ("found", "exit-hold", "mains")},
    ),
    (
        "runs on a locked source",
        case(Step("lock", (ISO,)), Step("run", (Effect("runs-on", ("mains",)),))),
        {("run", "runs-on", "mains")},
    ),
    ("live with a reason and danger", case(LIVE, Step("lock", (ISO,))), set()),
    (
        "live with too weak a panel",
        case(replace(LIVE, panels=()), Step("lock", (ISO,))),
        {("trim", "live-panel", "mains")},
    ),
    (
        "two springs from inside do not block each other",
        case(
            Step("open", (REMOVE,)),
            Step("one", (Effect("releases", ("spring",)),)),
            Step("two", (Effect("releases", ("other",)),)),
            proof("prove", "swap", "spring", "other"),
            Step("swap"),
            sources=TWO_SPRINGS,
            panels=False,
        ),
        {(s, "caution", n) for s in ("open", "one", "two", "prove", "swap") for n in ("spring", "other")},
    ),
    (
        "hands inside a step that loads",
        case(
            Step("open", (REMOVE,)),
            Step("ease", (Effect("releases", ("spring",)),)),
            proof("prove", "wind", "spring"),
            Step("wind", (Effect("loads", ("spring",)),), hands=Hands("inside")),
            sources=(SPRING,),
        ),
        {("wind", "exposure", "spring")},
    ),
    (
        "a failed proof that goes on",
        case(*put("prove", replace(SOUND[2], answers=(Answer("swap"), Answer("close", ()))))),
        {("close", "exposure", "mains")},
    ),
    (
        "a loop without end",
        case(Step("look", hands=LOOK, goto="again"), Step("again", hands=LOOK, goto="look"), tag=False),
        {("look", "no-way-out", None), ("again", "no-way-out", None)},
    ),
    (
        "falling off the end",
        case(Step("look", hands=LOOK), tag=False),
        {("look", "dead-end", None), ("look", "no-way-out", None)},
    ),
    (
        "a step nobody reaches",
        case(Step("look", hands=LOOK, goto="tag"), Step("lost", hands=LOOK), Step("lock", (ISO,))),
        {("lost", "unreachable", None), ("lock", "unreachable", None), ("tag", "exit-unheld", "mains")},
    ),
]


@pytest.mark.parametrize(("name", "spec", "wanted"), CASES, ids=[c[0] for c in CASES])
def test_known_answers(name: str, spec: Spec, wanted: set[tuple[str, str, str | None]]) -> None:
    """The oracle finds exactly what was worked out by hand."""
    assert well_formed(spec), name
    assert violations(spec) == wanted


def staged(source: Source) -> Spec:
    """Proved in one stage, worked on in the next."""
    first = Stage(
        "safe",
        (
            Step("lock", (ISO, Effect("wait", (), 300))),
            Step("open", (REMOVE,)),
            proof("prove", "swap", "mains", "cap"),
        ),
        panels=(Panel("warning", ("mains", "cap")),),
    )
    second = Stage("work", (Step("swap"), TAG), panels=(Panel("warning", ("mains", "cap")),))
    return Spec(Profile((MAINS, source), ("lid",)), (first, second))


def test_a_stage_boundary_brings_a_reaccumulating_source_back() -> None:
    """Only the source that re-accumulates is blamed in the next stage."""
    assert violations(staged(CAP)) == set()
    assert violations(staged(replace(CAP, reaccumulates=True))) == {("swap", "exposure", "cap")}


def test_a_caution_ends_with_its_stage() -> None:
    """The second stage needs a panel of its own; one above the first stage serves both."""
    spec = staged(CAP)
    bare = replace(spec, stages=(spec.stages[0], replace(spec.stages[1], panels=())))
    assert violations(bare) == {("swap", "caution", "mains"), ("swap", "caution", "cap")}
    assert violations(replace(bare, panels=(Panel("warning", ("mains", "cap")),))) == set()


def test_a_shared_stage_keeps_the_cautions_of_its_caller() -> None:
    """The block has no panel of its own and is no boundary."""
    block = Stage(
        "safe", (Step("lock", (ISO,)), Step("open", (REMOVE,)), proof("prove", "back", "mains")), shared=True
    )
    work = Stage(
        "work", (Step("make-safe", do="safe"), Step("swap"), TAG), panels=(Panel("warning", ("mains",)),)
    )
    spec = Spec(Profile((MAINS,), ("lid",)), (block, work))
    assert violations(spec) == set()
    assert {v[:2] for v in violations(replace(spec, stages=(block, replace(work, panels=()))))} == {
        ("open", "caution"),
        ("prove", "caution"),
        ("swap", "caution"),
    }


def test_honesty_findings_are_told_apart() -> None:
    """Inside with every guard on is no core finding."""
    outcome = judge(case(Step("lock", (ISO,)), proof("prove", "swap", "mains"), Step("swap")))
    assert not outcome.core
    assert ("swap", "guards-on", None) in outcome.honesty
