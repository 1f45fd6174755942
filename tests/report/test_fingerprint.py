"""A fingerprint stays while the text around a finding changes, and is no other finding's."""

import json

from tests.demo import CHARGE, edit

from kilter.diagnostic import Diagnostic, Severity
from kilter.report.checked import Checked
from kilter.report.fingerprint import KIND, fingerprints
from kilter.source import Source


def marks(check, *words):
    results = json.loads(check("--format", "sarif", *words)[1])["runs"][0]["results"]
    return {r["partialFingerprints"][KIND] for r in results}


def test_lines_above_and_blanks_change_nothing(faulty, check):
    before = marks(check, CHARGE)
    edit(faulty, "## Measure from outside\n", "Another sentence.\n\n## Measure from outside\n\n\n")
    edit(faulty, "Undo the mast screws roughly,", "Undo the   mast screws roughly,")
    after = marks(check, CHARGE)
    assert len(before) > 4
    assert after == before


def test_a_renamed_file_keeps_its_findings(faulty, check):
    before = marks(check)
    (faulty / CHARGE).rename(faulty / "procedures" / "other name.md")
    for name in ("charge-path.svg", "pads-found.jpg", "pads-left.jpg", "pad-section.svg"):
        edit(faulty, f" pictures/{name}", f" lift/pictures/{name}", "procedures/other name.md")
    assert marks(check) == before


def test_another_step_another_fingerprint(library, check):
    words = "Undo the mast screws."
    edit(library, words, "Undo the mast screws roughly.")
    first = marks(check, CHARGE)
    edit(library, words, "Undo the mast screws roughly.")
    both = marks(check, CHARGE)
    assert len(first) == 1 and len(both) == 2 and first < both


def same(
    *lines, text="## A\n\n### One\n\nSame line.\nSame line.\n\n### Two\n\nSame line.\n", message="a `b`"
):
    source = Source("a.md", text)
    found = tuple(Diagnostic("r", Severity.HINT, message, source.whole_row(n - 1)) for n in lines)
    return fingerprints(Checked(found, ("a.md",), {"a.md": source}, {"a.md": "number a-1"}))


def test_the_same_words_twice_are_two_findings():
    all_three = same(5, 6, 10)
    assert len(set(all_three)) == 3
    assert same(5) == all_three[:1]
    assert same(10) == all_three[2:]


def test_the_wording_of_a_message_does_not_count_but_what_it_names_does():
    assert same(5, message="quite other words: `b`") == same(5)
    assert same(5, message="a `c`") != same(5)


def test_the_rule_counts():
    source = Source("a.md", "x\n")
    found = tuple(Diagnostic(rule, Severity.HINT, "m", source.whole_row(0)) for rule in ("r", "s"))
    assert len(set(fingerprints(Checked(found, ("a.md",), {"a.md": source})))) == 2
