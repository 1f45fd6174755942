"""JUnit XML is judged by the XML Schema of a build server, and counts what the exit code counts."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree
from tests.demo import CHARGE, edit

from kilter.diagnostic import Diagnostic, Severity
from kilter.report import junit
from kilter.report.checked import Checked
from kilter.source import Span

SCHEMA = etree.XMLSchema(etree.parse(Path(__file__).parent / "standard" / "junit-10.xsd"))


def judged(text):
    root = etree.fromstring(text.encode("utf-8"))
    assert SCHEMA.validate(root), SCHEMA.error_log
    return root


@pytest.mark.parametrize(
    "bad",
    [
        "<testsuites><testsuite name='a' tests='1' failures='0'/></testsuites>",
        "<testsuites><testsuite name='a' tests='1' failures='0' errors='0'><testcase/></testsuite></testsuites>",
        "<testsuites><finding/></testsuites>",
    ],
)
def test_the_judge_refuses_what_is_no_report(bad):
    assert not SCHEMA.validate(etree.fromstring(bad))


def test_a_clean_document_has_one_case_that_passes(library, check):
    code, out, _ = check("--format", "junit")
    root = judged(out)
    assert code == 0
    assert root.get("failures") == root.get("errors") == "0"
    suites = {s.get("name"): s for s in root}
    assert set(suites) == {
        f.relative_to(library).as_posix() for f in library.rglob("*.md") if f.name != "front.md"
    }
    for path, suite in suites.items():
        assert [(c.get("name"), c.get("classname"), len(c)) for c in suite] == [(junit.CLEAN, path, 0)]


def test_errors_fail_and_warnings_are_told(faulty, check):
    root = judged(check("--format", "junit", CHARGE)[1])
    (suite,) = root
    cases = {c.get("name").split()[1]: c for c in suite}
    assert cases["open-before-released"][0].tag == "failure"
    assert "way in: Watch the dock lamp" in cases["open-before-released"][0].text
    assert cases["vague-word"][0].tag == "system-out"
    failed = sum(c.find("failure") is not None for c in suite)
    assert suite.get("failures") == root.get("failures") == str(failed)
    assert suite.get("tests") == str(len(suite)) and failed < len(suite)


def test_strict_makes_warnings_fail_as_it_does_the_exit(library, check):
    edit(library, "Undo the mast screws.", "Undo the mast screws roughly.")
    code, out, _ = check("--format", "junit", CHARGE)
    assert code == 0 and judged(out).get("failures") == "0"
    code, out, _ = check("--format", "junit", "--strict", CHARGE)
    assert code == 1 and judged(out).get("failures") == "1"


def test_several_findings_of_one_rule_are_one_case(library, check):
    edit(library, "Undo the mast screws.", "Undo the mast screws roughly, and roughly again.")
    (suite,) = judged(check("--format", "junit", "--strict", CHARGE)[1])
    (case,) = suite
    assert case[0].get("message").endswith("(and 1 more)")
    assert case[0].text.count("vague-word]") == 2


@given(st.text(st.characters(), max_size=30), st.text(st.characters(codec=None), max_size=30))
def test_no_sign_breaks_the_xml(path, message):
    found = Diagnostic("r", Severity.ERROR, message, Span(path, 1, 1, 1, 1), message, code="K1")
    (suite,) = judged(junit.render(Checked((found,), (path,))))
    assert suite.get("failures") == "1"


def test_a_fault_of_the_tool_is_an_error_and_no_failure():
    found = Diagnostic("tool-fault", Severity.ERROR, "broken", Span("a.md", 1, 1, 1, 1))
    root = judged(junit.render(Checked((found,), ("a.md",))))
    assert (root.get("errors"), root.get("failures")) == ("1", "0")
