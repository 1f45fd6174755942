"""One tiny case for each numbered choice of the oracle that changes a verdict: a changed choice must change its test."""

from __future__ import annotations

import ast
from dataclasses import replace
from pathlib import Path

from .oracle import judge, violations
from .parts import LOOK, OUTSIDE, eff, wait
from .reading import SAFEST, Violation
from .spec import Answer, Effect, Hands, Panel, Profile, Source, Spec, Stage, Step
from .test_oracle import CAP, CLEAR, ISO, MAINS, REMOVE, REST, SPRING, TAG, case, proof

PACK = Source("battery", "battery", lockable=True, isolate=True)
LINE = Source("line", "pneumatic", fed_by=("mains",), release="action", release_from="outside")
LOCK, OPEN, SWAP = Step("lock", (ISO,)), Step("open", (REMOVE,)), Step("swap")
BOTH = (Panel("warning", ("mains", "battery", "line", "cap")),)


def found(*steps: Step, sources: tuple[Source, ...], **switches: bool) -> set[Violation]:
    """Core findings of one stage with all panels, without the tag's."""
    names = {s.name for s in sources}
    panel = Panel("warning", tuple(n for n in BOTH[0].sources if n in names))
    spec = case(*steps, sources=sources, panels=False)
    spec = replace(spec, stages=(replace(spec.stages[0], panels=(panel,)),))
    return {v for v in violations(spec, replace(SAFEST, **switches)) if v[0] != "tag"}


def test_order_is_the_policys_and_not_the_writers() -> None:
    """Choice 1: a wait written before the lock in one step counts as after it."""
    step = Step("lock", (wait(300), ISO))
    assert found(step, OPEN, proof("prove", "swap", "mains", "cap"), SWAP, sources=(MAINS, CAP)) == set()


def test_releasing_and_proving_again_is_no_fault() -> None:
    """Choice 2: but a proof does not outlive another release."""
    ease = Step("ease", (eff("releases", "line"),))
    more = replace(ease, slug="ease-again", hands=OUTSIDE)
    steps = (LOCK, ease, OPEN, proof("prove", "ease-again", "mains", "line"), more, SWAP)
    assert found(*steps, sources=(MAINS, LINE)) == {("swap", "exposure", "line")}
    again = (*steps[:-1], proof("prove-again", "swap", "mains", "line"), SWAP)
    assert found(*again, sources=(MAINS, LINE)) == set()


def test_what_bleeds_may_be_released_by_hand() -> None:
    """Choice 3: a release by hand of a bleeding source counts; the other reading refuses it."""
    steps = (LOCK, Step("ease", (eff("releases", "cap"),)), proof("prove", "tag", "mains", "cap"))
    assert found(*steps, sources=(MAINS, CAP)) == set()
    stricter = found(*steps, sources=(MAINS, CAP), bleed_by_hand=False)
    assert stricter == {("ease", "release", "cap"), ("prove", "prove", "cap")}


def test_a_failed_proof_of_the_feed_brings_its_stores_back() -> None:
    """Choices 5 and 6: after `{not-zero mains}` the capacitor has to bleed once more."""
    prove = Step(
        "prove", (eff("proves", "mains", "cap"),), answers=(Answer("tag"), Answer("relock", ("mains",)))
    )
    steps = (
        LOCK,
        Step("drain", (wait(300),)),
        prove,
        Step("relock", (ISO,)),
        proof("prove-again", "tag", "cap"),
    )
    assert found(*steps, sources=(MAINS, CAP)) == {("prove-again", "prove", "cap")}
    assert found(*steps, sources=(MAINS, CAP), spread=False) == set()


def test_what_a_step_with_a_failed_proof_did_does_not_count() -> None:
    """Choice 7: the battery locked in the step whose proof of the mains failed goes back to live."""
    step = Step(
        "both",
        (eff("isolates", "battery"), eff("proves", "mains")),
        answers=(Answer("tag"), Answer("relock", ("mains",))),
    )
    steps = (LOCK, step, Step("relock", (ISO,)), proof("prove", "tag", "battery"))
    assert found(*steps, sources=(MAINS, PACK)) == {("prove", "prove", "battery")}
    assert found(*steps, sources=(MAINS, PACK), others_acted=False) == set()


def test_the_stores_caution_dies_with_the_restore_of_its_feed() -> None:
    """Choice 8: a new panel for the mains alone is not enough."""
    steps = (
        LOCK,
        Step("clear", (CLEAR,)),
        Step("power", (REST,)),
        Step("again", (ISO, wait(300)), panels=(Panel("warning", ("mains",)),)),
        OPEN,
    )
    assert found(*steps, sources=(MAINS, CAP)) == {("open", "caution", "cap")}
    assert found(*steps, sources=(MAINS, CAP), store_cautions_die=False) == set()


def test_a_steps_panel_holds_to_the_end_of_the_stage() -> None:
    """Choice 9."""
    spec = case(replace(LOCK, panels=(Panel("warning", ("mains",)),)), OPEN, panels=False)
    assert violations(spec) == set()
    assert violations(spec, replace(SAFEST, step_panel_stays=False)) == {("open", "caution", "mains")}


def test_panels_of_a_shared_stage_end_with_it() -> None:
    """Choice 9: the caller has to warn for itself, once; a restore inside ends the caller's panel too."""
    panels = (Panel("warning", ("mains",)),)
    block = Stage("safe", (LOCK, Step("look", hands=LOOK)), True, panels=panels)
    main = Stage("work", (Step("make-safe", do="safe"), OPEN, TAG))
    profile = Profile((MAINS,), ("lid",))
    assert violations(Spec(profile, (block, main))) == {("open", "caution", "mains")}
    assert violations(Spec(profile, (block, main)), replace(SAFEST, block_panels_stay=True)) == set()
    assert violations(Spec(profile, (block, replace(main, panels=panels)))) == set()
    power = replace(
        block,
        steps=(LOCK, Step("clear", (CLEAR,)), Step("power", (REST,)), Step("relock", (ISO,))),
        panels=(),
    )
    assert violations(Spec(profile, (power, replace(main, panels=panels)))) == {("open", "caution", "mains")}


def test_what_a_long_wait_leaves_over_counts_for_coming_back() -> None:
    """Choice 13: 10 minutes, of which 5 bleed; back after 4."""
    cap = replace(CAP, reaccumulates=240)
    steps = (LOCK, Step("drain", (wait(600),)), proof("prove", "tag", "cap", "mains"))
    assert found(*steps, sources=(MAINS, cap)) == {("prove", "prove", "cap")}
    assert found(*steps, sources=(MAINS, cap), excess=False) == set()
    ranged = (LOCK, Step("drain", (wait(300, 600),)), steps[2])
    assert found(*ranged, sources=(MAINS, cap)) == {("prove", "prove", "cap")}
    assert found(*ranged, sources=(MAINS, cap), upper_end=False) == set()


def test_a_test_that_failed_is_no_test() -> None:
    """Choice 14."""
    test = Step(
        "try", (Effect("tests", ("function",)),), answers=(Answer("finish"), Answer("finish", None, True))
    )
    spec = case(test, Step("finish", exit="service"), tag=False)
    assert violations(spec) == {("finish", "exit-untested", None)}
    assert violations(spec, replace(SAFEST, not_ok_clears=False)) == set()


def test_a_live_step_may_restore_its_own_source() -> None:
    """Choice 15: its DANGER is judged as read before the restore."""
    trim = Step("trim", (REST,), hands=Hands("live", True, ("mains",)), panels=(Panel("danger", ("mains",)),))
    assert violations(case(LOCK, Step("clear", (CLEAR,)), trim, Step("relock", (ISO,)))) == set()
    opened = replace(trim, hands=Hands("open"))
    assert ("trim", "exposure", "mains") in violations(
        case(LOCK, Step("clear", (CLEAR,)), opened, Step("relock", (ISO,)))
    )


def test_energised_work_without_a_reason_is_a_finding_even_where_nothing_is_in_reach() -> None:
    """Clear-of leaves the core policy nothing to say; the missing reason is still told."""
    trim = Step("trim", hands=Hands("live", False, ("mains",)), clear_of=("mains",))
    outcome = judge(case(trim, LOCK))
    assert not outcome.core
    assert ("trim", "live-no-reason", None) in outcome.honesty
    assert ("trim", "live-no-reason", None) not in judge(
        case(replace(trim, hands=Hands("live", True, ("mains",))), LOCK)
    ).honesty


def test_probing_what_the_step_loads_is_an_exposure() -> None:
    """Choice 16."""
    line = replace(LINE, release="none", release_from="inside")
    wind = Step("wind", (eff("loads", "line"),), hands=Hands("probe", True))
    assert found(LOCK, wind, sources=(MAINS, line)) == {("wind", "exposure", "line")}
    assert found(LOCK, wind, sources=(MAINS, line), probe_narrow=False) == set()


def test_a_proof_from_outside_with_a_guard_off_needs_a_reason() -> None:
    """Choice 17: a wait in the same step does not change that, an inside source does."""
    outer = replace(MAINS, prove_from="outside")
    prove = proof("prove", "tag", "mains")
    assert found(LOCK, OPEN, prove, sources=(outer,)) == {("prove", "reason", None)}
    assert found(LOCK, OPEN, replace(prove, hands=OUTSIDE), sources=(outer,)) == set()
    other = (outer, PACK)
    assert found(LOCK, prove, sources=other) == set()
    waits = replace(prove, effects=(*prove.effects, wait(60)))
    assert found(LOCK, waits, sources=other) == set()
    inner = proof("prove", "tag", "mains", "battery")
    assert ("prove", "prove", "battery") in found(LOCK, inner, sources=other)
    lock = replace(LOCK, effects=(ISO, eff("isolates", "battery")))
    assert found(lock, replace(inner, zone=None), sources=(outer, PACK, CAP)) == {
        ("prove", "exposure", "cap")
    }


def test_a_link_out_of_a_shared_stage_into_the_callers_stage_is_no_boundary() -> None:
    """Choice 11: the caution that the caller's step gave still holds."""
    block = Stage("safe", (Step("ask", hands=LOOK, answers=(Answer("back"), Answer("open"))),), True)
    first = replace(LOCK, panels=(Panel("warning", ("mains",)),))
    main = Stage("work", (first, Step("make-safe", do="safe"), OPEN, TAG))
    assert violations(Spec(Profile((MAINS,), ("lid",)), (main, block))) == set()


def test_a_spring_fails_its_proof_to_its_landing_level() -> None:
    """Choice 6: a source with neither feed nor lock can be let go again."""
    spring = replace(SPRING, release_from="outside", prove_from="outside")
    ease = Step("ease", (eff("releases", "spring"),))
    prove = Step("prove", (eff("proves", "spring"),), answers=(Answer("tag"), Answer("ease", ())))
    assert found(ease, prove, sources=(spring,)) == set()


def imports(file: Path) -> set[str]:
    """Modules that a file imports, at any depth of its text; those of this folder begin with a dot."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.level:
            found |= {f".{node.module}"} if node.module else {f".{alias.name}" for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add(node.module or "")
    return found


def test_oracle_and_generators_share_no_code_with_the_engine() -> None:
    """Whatever they import, directly or through others, none of it imports the project."""
    todo, seen = [".oracle", ".generate", ".markdown", ".faults"], set[str]()
    while todo:
        name = todo.pop()
        seen.add(name)
        found = imports(Path(__file__).with_name(f"{name[1:]}.py"))
        assert not {n for n in found if n.split(".")[0] == "kilter"}, name
        todo += [n for n in found if n.startswith(".") and n not in seen]
    assert {".walk", ".duties", ".world", ".plan", ".honesty", ".gaps"} <= seen
    assert any(n.startswith("kilter") for n in imports(Path(__file__).with_name("adapter.py")))
