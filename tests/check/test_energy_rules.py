"""Every rule of the energy analysis has its page, and its examples show its fault, mended, and no other."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.check.pages import Example, examples, report_of

from kilter.check.flow import ABOUT, RULES
from kilter.check.rule import all_rules

PAGES = {r.name: r for r in all_rules().values() if r.family == "energy"}
EXAMPLES = [e for rule in PAGES.values() for e in examples(rule)]

BESIDE = {
    "bad-clear-of": {"inside-before-proved"},
}
"""What comes along: a lock or an open guard was touched; a source that is not explained away is in reach."""

FRAME = "title-differs"
"""An example has the title of its own job; the frame's front matter, which no reader sees, has another."""


def test_pages_and_rules_are_the_same() -> None:
    assert {name: rule.severity for name, rule in PAGES.items()} == RULES
    assert ABOUT.keys() == RULES.keys()


def test_codes_follow_each_other() -> None:
    assert sorted(r.code for r in PAGES.values()) == [f"K7{n:02d}" for n in range(1, len(PAGES) + 1)]


@pytest.mark.parametrize("name", RULES)
def test_page_names_what_it_serves(name: str) -> None:
    assert "".join(ABOUT[name].split()) in "".join(PAGES[name].page.split())


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: e.id)
def test_example_shows_one_fault_or_none(example: Example, tmp_path: Path) -> None:
    """A reader learns from a fault only if nothing else is wrong; what passes is sound about energy."""
    said = [d for d in report_of(example.text, tmp_path).all() if d.rule in RULES]
    wanted = {example.rule, *BESIDE.get(example.rule, ())} if example.fails else set()
    assert {d.rule for d in said} == wanted, [f"{d.span}: {d.message}" for d in said]
    assert all(d.severity is RULES[d.rule] for d in said)


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: e.id)
def test_nothing_but_energy_refuses_an_example(example: Example, tmp_path: Path) -> None:
    report = report_of(example.text, tmp_path)
    others = [d for path in report.found for d in report.errors(path) if d.rule not in {*RULES, FRAME}]
    assert [f"{d.span}: {d.message} [{d.rule}]" for d in others] == []
