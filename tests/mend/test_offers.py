"""Every fix on offer does what it says: its finding goes, nothing else comes, and what is unsaid stays a blank."""

from __future__ import annotations

import re
from collections import Counter
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from tests.mend.offers import Outcome, Text, everything, outcomes, said, texts

from kilter.check.rule import all_rules
from kilter.mend.rounds import mend

TEXTS = texts()

REVEALED = {
    "unknown-role": {"origin-missing", "hands-too-low", "unknown-source"},
    "stray-brace": {"unreachable-step", "unused-shared-stage", "no-stages"},
    "step-without-stage": {"dead-end", "guards-still-on"},
    "unclosed-directive": {"panel-late"},
    "bad-allowance": {"unused-allowance"},
    "unknown-shared-stage": {"guard-off-no-reason"},
    "yaml-alias": {"bad-value"},
    "window-empty": {"setting-outside-window"},
    "control-character": {"unmarked-torque"},
}
"""Faults that keep something from being read, and what is found once it is: none of it is the fix's doing."""

SAY_NOTHING_NEW = {"bad-hands", "bad-exit", "panel-late"}
"""Rules about energy and panels with a fix that only spells a word of the format, or moves what is written."""


@lru_cache(maxsize=1)
def all_outcomes() -> tuple[tuple[Text, Outcome], ...]:
    found = []
    for text in TEXTS:
        with TemporaryDirectory() as folder:
            found += [(text, o) for o in outcomes(text.workspace(Path(folder)))]
    return tuple(found)


def shown(text: Text, outcome: Outcome) -> str:
    return f"{text.name}: {outcome.found.rule}: {outcome.found.message} -> {outcome.fix.title}"


def kinds(messages: Counter[tuple[str, str]]) -> Counter[tuple[str, str]]:
    """Without the names in them: the same fault of a step further on is no new one."""
    counted: Counter[tuple[str, str]] = Counter()
    for (rule, message), count in messages.items():
        counted[rule, re.sub("`[^`]*`", "`...`", message)] += count
    return counted


def test_every_fix_can_be_made() -> None:
    assert [shown(t, o) for t, o in all_outcomes() if not o.made] == []


def test_every_fix_makes_its_finding_go() -> None:
    assert [shown(t, o) for t, o in all_outcomes() if not o.gone] == []


def test_a_fix_leaves_one_blank_or_none_as_it_says() -> None:
    assert [shown(t, o) for t, o in all_outcomes() if o.blanks != int(o.fix.leaves_blank)] == []


def test_no_fix_brings_a_finding() -> None:
    wrong = []
    for text, outcome in all_outcomes():
        if outcome.unread:
            continue
        new = kinds(said(list(outcome.after))) - kinds(outcome.before)
        new = Counter({k: n for k, n in new.items() if k[0] != "blank-left"})
        if {rule for rule, _ in new} - REVEALED.get(outcome.found.rule, set()):
            wrong.append((shown(text, outcome), dict(new)))
    assert wrong == []


def test_what_a_fault_hid_is_still_found() -> None:
    met = {o.found.rule for _, o in all_outcomes() if o.brought and not o.unread}
    assert set(REVEALED) <= met, "a rule of the list reveals nothing any more: take it out"


def test_most_of_the_rules_with_a_certain_cure_offer_it() -> None:
    rules = {o.found.rule for _, o in all_outcomes()}
    assert len(rules) >= 68, sorted(rules)
    assert rules <= set(all_rules())


def test_what_is_applied_alone_is_no_matter_of_safety() -> None:
    alone = {o.found.rule for _, o in all_outcomes() if o.fix.alone}
    assert alone, "nothing is applied alone any more"
    assert {
        r for r in alone if all_rules()[r].safety or all_rules()[r].family in ("energy", "panels")
    } == set()
    assert [shown(t, o) for t, o in all_outcomes() if o.fix.alone and o.fix.leaves_blank] == []
    assert [shown(t, o) for t, o in all_outcomes() if o.fix.alone and len(o.found.fixes) > 1] == []


def test_a_fix_about_energy_leaves_a_blank() -> None:
    unsaid = [
        shown(t, o)
        for t, o in all_outcomes()
        if all_rules()[o.found.rule].family in ("energy", "panels")
        and not o.fix.leaves_blank
        and o.found.rule not in SAY_NOTHING_NEW
    ]
    assert unsaid == []


def test_titles_are_short_orders() -> None:
    titles = {o.fix.title for _, o in all_outcomes()}
    assert [t for t in titles if len(t) > 110 or t[:1].isupper() or t.endswith(".")] == []


@pytest.mark.parametrize("text", TEXTS, ids=lambda t: t.name)
def test_after_all_fixes_none_is_left_to_make(text: Text, tmp_path: Path) -> None:
    workspace = text.workspace(tmp_path)
    before = len(everything(workspace))
    mended = mend(workspace, workspace.paths())
    again = mend_again(text, mended.texts, tmp_path)
    assert again.made == ()
    assert [d.message for d in again.left if any(f.alone for f in d.fixes)] == []
    if not mended.made:
        assert len(mended.left) == before
        assert mended.texts == mended.originals


def mend_again(text, texts, folder):
    """From the disk, as a second `--fix` would."""
    from kilter.check.workspace import Workspace

    root = folder / "procedures"
    for path, content in texts.items():
        (root / path).write_bytes(content.encode("utf-8"))
    workspace = Workspace(root, base=root)
    return mend(workspace, workspace.paths())
