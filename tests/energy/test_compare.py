"""The comparison must see and shrink a fault; an engine without fault must pass."""

from __future__ import annotations

from dataclasses import replace

from .adapter import read_case
from .compare import Engine, compare, disagreement, less, reproduction, show, shrink
from .generate import cases
from .markdown import to_markdown
from .oracle import judge
from .reading import SAFEST, Reading
from .spec import Spec, well_formed


def findings(spec: Spec, reading: Reading = SAFEST) -> set[tuple[str, str]]:
    """All that the oracle has against a case."""
    outcome = judge(spec, reading)
    return {(slug, kind) for slug, kind, _ in outcome.core | outcome.honesty}


def engine_of(specs: list[Spec], reading: Reading = SAFEST) -> dict[tuple[str, str], set[tuple[str, str]]]:
    """An engine that knows the answers of some cases."""
    return {to_markdown(s): findings(s, reading) for s in specs}


def test_an_engine_that_answers_like_the_oracle_agrees() -> None:
    """No disagreement is made up by the comparison."""
    given = list(cases(300, 11))
    known = engine_of([spec for _, _, spec in given])
    tally = compare(lambda a, b: known[a, b], given)
    assert tally.count == 300
    assert not tally.found, show(tally)
    assert 60 < tally.accepted < 240


def test_a_false_accept_a_false_reject_and_a_wrong_step_are_told_apart() -> None:
    """Three faulty engines on one accepted and one rejected case."""
    specs = [spec for _, _, spec in cases(60, 3)]
    good = next(s for s in specs if not findings(s))
    bad = next(s for s in specs if findings(s))
    assert disagreement(bad, lambda a, b: set()) == "false accept"
    assert disagreement(good, lambda a, b: {("lock", "x")}) == "false reject"
    assert disagreement(bad, lambda a, b: {("nowhere", "x")}) == "blames nowhere"
    stage = next(s.slug for s in bad.stages if {v[0] for v in findings(bad)} & {x.slug for x in s.steps})
    assert disagreement(bad, lambda a, b: {(stage, "x")}) is None


def test_a_disagreement_is_shrunk_to_its_cause() -> None:
    """An engine that never looks at cautions: what is left has few steps and only the caution is missing."""

    def careless(spec: Spec) -> Engine:
        return lambda a, b: {(slug, kind) for slug, kind in findings(spec) if kind != "caution"}

    given = [spec for _, _, spec in cases(600, 2)]
    hit = [s for s in given if disagreement(s, careless(s)) == "false accept"][:3]
    assert hit, "no disagreement found"
    for case in hit:
        spec = shrink(case, lambda s: disagreement(s, careless(s)) == "false accept")
        assert {kind for _, kind in findings(spec)} == {"caution"}
        assert len(spec.steps()) <= 5, reproduction(spec)


def test_another_reading_is_noticed() -> None:
    """The directed cases tell the readings apart that the docstring of the oracle lists as switches."""
    specs = [spec for _, _, spec in cases(3000, 4)]
    for name in Reading.__slots__:
        other = replace(SAFEST, **{name: not getattr(SAFEST, name)})
        assert any(bool(judge(s).core) != bool(judge(s, other).core) for s in specs), name


def test_every_smaller_case_can_be_judged_and_read() -> None:
    """Leaving one thing out never makes a case that the oracle or the reader trips over."""
    smaller = [s for _, _, spec in cases(150, 8) for s in less(spec) if well_formed(s)]
    assert len(smaller) > 1000
    for spec in smaller:
        judge(spec)
    for spec in smaller[::25]:
        read_case(*to_markdown(spec))
