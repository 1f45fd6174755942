"""Old findings can be put off, safety can't, and nothing is put off without being told."""

import json
from pathlib import Path

import pytest
from tests.demo import CHARGE, edit

from kilter.check.rule import all_rules
from kilter.cli import main
from kilter.diagnostic import Diagnostic, Severity
from kilter.report import baseline
from kilter.report.checked import Checked, Debt, Gone
from kilter.report.fingerprint import fingerprints
from kilter.source import Source


@pytest.fixture
def indebted(library):
    """Two warnings that may wait, in two documents."""
    edit(library, "Undo the mast screws.", "Undo the mast screws roughly.")
    edit(library, "Press each latch.", "Press each latch snug.", "procedures/lift/lft-010-pre-use-check.md")
    return library


def test_present_findings_are_put_off_and_counted(indebted, check):
    assert check("--strict")[0] == 1
    code, out, err = check("--strict", "--write-baseline", "old.json")
    assert code == 0
    assert err == "old.json: 2 findings put off\n"
    assert out.splitlines() == ["2 old findings put off by old.json", "12 files checked: nothing to mend"]
    assert check("--strict", "--baseline", "old.json")[:2] == (0, out)


def test_a_new_finding_is_seen(indebted, check):
    check("--write-baseline", "old.json")
    edit(indebted, "Undo the mast screws.", "Undo the mast screws roughly.")
    code, out, _ = check("--strict", "--baseline", "old.json")
    assert code == 1
    assert "1 warning" in out and out.count("vague-word]") == 1


def test_a_second_one_in_the_same_line_is_seen(indebted, check):
    check("--write-baseline", "old.json")
    edit(indebted, "the mast screws roughly.", "the mast screws roughly, snug.")
    assert check("--strict", "--baseline", "old.json")[0] == 1


def test_safety_is_never_put_off(faulty, check):
    code, out, err = check("--write-baseline", "old.json")
    entries = json.loads((faulty / "old.json").read_text())["findings"]
    assert code == 1
    assert err == "old.json: 2 findings put off\n"
    assert {e["rule"] for e in entries} == {"vague-word", "vague-torque"}
    assert "open-before-released]" in out and "vague" not in out
    assert check("--baseline", "old.json")[0] == 1


@pytest.mark.parametrize("rule", all_rules().values(), ids=lambda rule: rule.name)
def test_which_rules_may_wait(rule):
    proof = rule.safety or rule.family in ("energy", "panels", "syntax")
    assert baseline.may_wait(rule.name) is not proof
    if rule.family in ("values", "writing", "cards"):
        assert baseline.may_wait(rule.name)


def test_an_entry_that_no_longer_occurs_is_told_with_its_line(indebted, check):
    check("--write-baseline", "old.json")
    edit(indebted, "the mast screws roughly.", "the mast screws.")
    code, out, _ = check("--strict", "--baseline", "old.json")
    line = next(
        n for n, row in enumerate((indebted / "old.json").read_text().splitlines(), 1) if "vague-word" in row
    )
    assert code == 0
    assert f"old.json:{line}: hint: `vague-word` in {CHARGE} no longer occurs; delete this entry" in out
    assert "1 old finding put off by old.json" in out
    data = json.loads(check("--format", "json", "--baseline", "old.json")[1])
    assert data["baseline"] == {
        "file": "old.json", "putOff": 1, "gone": [{"rule": "vague-word", "path": CHARGE, "line": line}],
    }  # fmt: skip


def test_what_was_not_checked_is_not_called_gone(indebted, check):
    check("--write-baseline", "old.json")
    code, out, _ = check("--strict", "--baseline", "old.json", CHARGE)
    assert code == 0
    assert "no longer" not in out and "1 old finding put off" in out


def test_the_file_is_the_same_for_the_same_findings_and_one_line_an_entry(indebted, check):
    check("--write-baseline", "old.json")
    first = (indebted / "old.json").read_bytes()
    check("--write-baseline", "old.json")
    assert (indebted / "old.json").read_bytes() == first
    assert first.count(b"fingerprint") == 2 == sum(b"fingerprint" in row for row in first.splitlines())


def test_no_findings_make_an_empty_baseline(library, check):
    assert check("--write-baseline", "old.json")[0] == 0
    assert json.loads((library / "old.json").read_text()) == {"version": "1", "findings": []}
    assert check("--baseline", "old.json")[1] == "12 files checked: nothing to mend\n"


MARK = "0" * 64
GOOD = {"path": "a.md", "rule": "vague-word", "fingerprint": MARK}


def text_of(*entries, version="1", **more):
    return json.dumps({"version": version, "findings": list(entries), **more}, indent=1)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("", 1, "not JSON"),
        ('{"version": "1",\n"findings": [\n{]}', 3, "not JSON"),
        ("[]", 1, "the file"),
        ("[" * 100_000, 1, "not JSON"),
        ('{"version": 1e999, "findings": []}', 1, "`version`"),
        (text_of(version="2"), 1, '`version` is not "1"'),
        (text_of(colour="red"), 1, "`colour` is no key"),
        (text_of(GOOD, {**GOOD, "rule": "hands-too-low"}), 9, "`hands-too-low` can't be put off"),
        (text_of({**GOOD, "rule": "panel-hazard"}), 4, "`panel-hazard` can't be put off"),
        (text_of({**GOOD, "rule": "empty-mark"}), 4, "`empty-mark` can't be put off"),
        (text_of({**GOOD, "rule": "unknown-source"}), 4, "`unknown-source` can't be put off"),
        (text_of({**GOOD, "fingerprint": "xyz"}), 4, "`fingerprint`"),
        (text_of(GOOD, {"path": "a.md", "rule": "vague-word"}), 9, "`fingerprint` is missing"),
        (text_of(GOOD, "words"), 9, "an entry"),
        (text_of({**GOOD, "rule": ["a"]}), 4, "`rule`"),
        (text_of({**GOOD, "path": "\ud800"}), 1, "`path`"),  # the reader of places takes no such sign
    ],
)
def test_a_damaged_or_edited_file_is_refused_with_its_place(library, check, text, line, words):
    (library / "old.json").write_text(text)
    code, out, err = check("--baseline", "old.json")
    assert code == 2 and out == ""
    assert err.startswith(f"kilter: old.json:{line}:")
    assert words in err


def test_an_entry_of_a_safety_finding_under_another_name_puts_nothing_off(faulty, check):
    results = json.loads(check("--format", "sarif")[1])["runs"][0]["results"]
    forged = [{**GOOD, "fingerprint": m} for r in results for m in r["partialFingerprints"].values()]
    (faulty / "old.json").write_text(text_of(*forged))
    rules = [
        r["rule"] for r in json.loads(check("--format", "json", "--baseline", "old.json")[1])["findings"]
    ]
    assert "open-before-released" in rules and "guards-still-on" in rules
    assert "vague-word" not in rules and "vague-torque" in rules


def test_even_an_entry_that_slipped_through_puts_off_no_safety():
    """Reading refuses such an entry already; this is the second wall."""
    source = Source("a.md", "x\n")
    found = tuple(
        Diagnostic(rule, Severity.ERROR, "m", source.whole_row(0))
        for rule in ("inside-before-proved", "vague-word")
    )
    checked = Checked(found, ("a.md",), {"a.md": source})
    marks = zip(found, fingerprints(checked), strict=True)
    entries = tuple(baseline.Entry(rule=f.rule, path="a.md", fingerprint=mark) for f, mark in marks)
    left = baseline.apply(baseline.Read(Path("x.json"), "", entries), checked, whole=True)
    assert [f.rule for f in left.findings] == ["inside-before-proved"]
    assert left.debt == Debt("x.json", 1, (Gone("inside-before-proved", "a.md", 1),))


def test_an_unknown_rule_is_told_as_gone(library, check):
    (library / "old.json").write_text(text_of({**GOOD, "rule": "rule-of-old"}))
    code, out, _ = check("--baseline", "old.json")
    assert code == 0 and "old.json:4: hint: `rule-of-old` in a.md no longer occurs" in out


def test_nothing_else_is_overwritten(library, check):
    before = (library / CHARGE).read_bytes()
    assert check("--write-baseline", CHARGE)[0] == 2
    assert (library / CHARGE).read_bytes() == before
    assert check("--write-baseline", "procedures")[0] == 2
    assert check("--write-baseline", "nowhere/old.json")[0] == 2


@pytest.mark.parametrize(
    "words",
    [
        ("--write-baseline", "x.json", "--baseline", "x.json"),
        ("--write-baseline", "x.json", "procedures/lift"),
        ("--write-baseline", "x.json", "--changed"),
        ("--fix", "--baseline", "x.json"),
        ("--fix", "--format", "sarif"),
        ("--baseline", "missing.json"),
    ],
)
def test_what_does_not_go_together_is_said(library, check, words):
    code, out, err = check(*words)
    assert code == 2 and out == "" and err.startswith("kilter: ") and err.count("\n") == 1
    assert not (library / "x.json").exists()


def test_building_does_not_know_of_it(indebted):
    with pytest.raises(SystemExit) as stop:
        main(["build", "--baseline", "old.json"])
    assert stop.value.code == 2
