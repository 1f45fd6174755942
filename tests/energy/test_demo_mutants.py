"""The demo library under mutation: nothing that matters can be left out, weakened or moved without an error."""

from __future__ import annotations

from functools import lru_cache

import pytest

from .adapter import engine_findings
from .demo_judge import Demo, Verdict
from .demo_mutants import COMMAND, TABLE, made, sample
from .demo_verdicts import UNKNOWN, why
from .markdown import to_markdown
from .oracle import judge
from .spec import Spec

NOT_EXPOSED = "every step of that stage is done from outside, so hands never meet the source under this panel"
EXCEPTIONS = {
    "LFT-120 / make-safe / drop panel warning boom, spreader spring": NOT_EXPOSED,
    "LFT-130 / make-safe / drop panel warning boom, spreader spring": NOT_EXPOSED,
    "STR-110 / make-safe / drop panel warning deck, drive wheel": NOT_EXPOSED,
    "STR-130 / make-safe / drop panel warning deck, drive wheel": NOT_EXPOSED,
    "WCB-210 / measure-warm-from-outside / drop panel warning plate heat": NOT_EXPOSED,
    "WCB-210 / test-before-service / drop panel warning plate heat": NOT_EXPOSED,
    "WCB-230 / test-before-service / drop panel warning plate heat": NOT_EXPOSED,
}
"""Panels with sources that may go: they tell more than the policy asks."""
MATTERS = ("drop isolates", "drop releases", "drop proves", "drop wait", "halve wait", "drop one name", "drop panel",
           "weaken panel", "drop source of panel", "move panel")  # fmt: skip


@lru_cache(maxsize=1)
def demo() -> Demo:
    """The library, read once."""
    return Demo()


@lru_cache(maxsize=1)
def sampled() -> tuple[Verdict, ...]:
    """Verdicts on the fixed sample."""
    return tuple(v for mutant in sample(demo()) for v in demo().verdicts(mutant))


def sound(spec: Spec) -> bool:
    """The oracle has nothing against it."""
    outcome = judge(spec)
    return not outcome.core and not outcome.honesty


@pytest.mark.parametrize("path", sorted(demo().specs))
def test_every_demo_document_is_sound_for_the_oracle_and_written_again(path: str) -> None:
    """The abstract case of a document is accepted by both judges, as the document is by the checker."""
    spec = demo().specs[path]
    assert len(spec.steps()) >= len(demo().documents[path].steps)
    assert sound(spec)
    assert not engine_findings(*to_markdown(spec))


def test_no_isolation_and_no_panel_with_sources_can_go() -> None:
    """Each is missed, at its step or later on the way; the exceptions are listed, and no longer than needed."""
    verdicts = [v for m in demo().mutants() if m.kind == "drop isolates" or (m.kind == "drop panel" and "no source" not in m.what)
                for v in demo().verdicts(m)]  # fmt: skip
    assert len(verdicts) > 60
    assert {v.name for v in verdicts if not v.rules} == set(EXCEPTIONS)
    assert not [v.name for v in verdicts if v.rules and not v.at_place]


def test_nothing_passes_that_the_oracle_refuses() -> None:
    """No false accept of any kind, and every survivor has a verdict."""
    assert len(sampled()) > 500
    passed = [v for v in sampled() if not v.rules]
    assert not [(v.name, v.outcome) for v in passed if not v.sound], "false accept"
    assert not [v.name for v in passed if v.sound and why(v, spec_of(v)) == UNKNOWN]


def test_a_step_of_a_profile_that_no_way_leads_to_is_refused() -> None:
    """Also in a shared stage of the profile that is asked for: leading past its tagged exit is no harmless change."""
    past = "retarget `The blades turn` to `let-the-fan-run-down`"
    verdicts = [v for m in demo().mutants() if f"{m.kind} {m.what}" == past for v in demo().verdicts(m)]
    assert [v.number for v in verdicts] == ["WCB-210", "WCB-230"]
    assert all("unreachable-step" in v.rules for v in verdicts)


def test_what_makes_safe_is_missed() -> None:
    """Isolations, releases, proofs, cautions and waits: refused at their place, unless the oracle shows them idle."""
    each = [v for v in sampled() if v.mutant.kind in MATTERS]
    assert {v.mutant.kind for v in each} == set(MATTERS)
    assert not [v.name for v in each if not v.rules and not v.sound]
    assert not [v.name for v in each if v.rules and not v.at_place]


def test_nothing_is_refused_that_the_oracle_accepts() -> None:
    """But for the failing answer of a reading as left, of which the oracle knows nothing."""
    wrong = [v for v in sampled() if v.rules and v.sound and not (
        set(v.rules) == {"no-failing-answer"} and reads_as_left(v))]  # fmt: skip
    assert not [(v.name, v.rules) for v in wrong]


def reads_as_left(v: Verdict) -> bool:
    """Does the changed step read a value as left?"""
    step = demo().library.documents[v.mutant.path].steps[v.mutant.where]
    return any(r.name == "read" and r.text.startswith("as left") for r in step.roles)


def test_changed_cases_written_again_get_the_oracle_s_verdict() -> None:
    """The abstract form of a changed document says the same to the checker as to the oracle."""
    given = [v for v in sampled() if v.after is not None and v.outcome is not None and (v.rules or v.sound)][
        ::9
    ]
    assert sum(v.sound for v in given) > 10 < sum(not v.sound for v in given)
    for v in given:
        assert v.after is not None
        assert bool(engine_findings(*to_markdown(v.after))) != v.sound, v.name


def test_the_table_is_up_to_date() -> None:
    """Its counts are those of today's library, and the sample finds its survivors in it."""
    text = TABLE.read_text(encoding="utf-8")
    cells = [
        [c.strip() for c in line.strip("|").split(" | ")]
        for line in text.splitlines()
        if line.startswith("| ")
    ]
    counts = {row[0]: int(row[1]) for row in cells if len(row) == 6 and row[1].isdigit()}
    listed = {(n, row[1], row[2], what) for row in cells if len(row) == 5
              for n in row[0].split(", ") for what in row[3].split("; ")}  # fmt: skip
    today = made(demo())
    assert counts == {**today, "all": sum(today.values())}, f"run {COMMAND}"
    for v in sampled():
        key = (v.number, v.mutant.where, v.mutant.kind, v.mutant.what)
        assert (key in listed) == (not v.rules), f"{v.name}: run {COMMAND}"


def spec_of(v: Verdict) -> Spec:
    """The case before the change."""
    return next(demo().specs[path] for path, d in demo().documents.items() if d.key.upper() == v.number)
