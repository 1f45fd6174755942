"""SARIF is judged by the schema of the standard and by what its text asks beyond that."""

import json
import re
import shutil
from pathlib import Path
from urllib.parse import unquote

import jsonschema
import jsonschema_rs
import pytest
from tests.demo import CHARGE, edit

from kilter.check.rule import all_rules, rule_named
from kilter.diagnostic import Diagnostic, Edit, Fix, Hop, Label, Severity
from kilter.publish.site.handbook import rule_address
from kilter.report import sarif
from kilter.report.checked import Checked
from kilter.source import Source, Span

SCHEMA = json.loads((Path(__file__).parent / "standard" / "sarif-2.1.0.schema.json").read_text("utf-8"))
CHECKER = jsonschema.Draft4Validator(SCHEMA)
SLIP = "^[a-zA-Z]{2}|^[a-zA-Z]{2}-[a-zA-Z]{2}]?$"
"""The schema has a bracket too many here, which the second judge takes for no pattern."""
SECOND = jsonschema_rs.Draft4Validator(
    json.loads(json.dumps(SCHEMA).replace(json.dumps(SLIP), json.dumps(SLIP.replace("]?$", "$"))))
)


def judged(text):
    log = json.loads(text)
    troubles = [f"{list(e.absolute_path)}: {e.message}" for e in CHECKER.iter_errors(log)]
    assert troubles == []
    assert SECOND.is_valid(log)
    return log


def test_the_judges_refuse_what_is_no_sarif():
    good = json.loads(sarif.render(Checked()))
    for bad in (
        {**good, "version": "2.0.0"},
        {**good, "runs": [{"results": []}]},
        {**good, "runs": [{**good["runs"][0], "results": [{"level": "fatal", "message": {"text": "x"}}]}]},
        {**good, "runs": [{**good["runs"][0], "colour": "red"}]},
    ):
        assert list(CHECKER.iter_errors(bad))
        assert not SECOND.is_valid(bad)


def test_a_clean_library_is_a_valid_log_with_every_document(library, check):
    code, out, _ = check("--format", "sarif")
    run = judged(out)["runs"][0]
    assert code == 0
    assert run["results"] == [] and run["tool"]["driver"]["rules"] == []
    assert run["invocations"] == [{"executionSuccessful": True}]
    assert [a["location"]["uri"] for a in run["artifacts"]] == sorted(
        f.relative_to(library).as_posix() for f in library.rglob("*.md") if f.name != "front.md"
    )


def test_findings_carry_rule_place_way_and_fixes(faulty, check):
    code, out, _ = check("--format", "sarif", CHARGE)
    run = judged(out)["runs"][0]
    assert code == 1
    assert run["columnKind"] == "unicodeCodePoints"
    rules, text = run["tool"]["driver"]["rules"], (faulty / CHARGE).read_text(encoding="utf-8").split("\n")
    for result in run["results"]:
        rule = rules[result["ruleIndex"]]
        assert rule["id"] == result["ruleId"]
        assert all_rules()[rule["name"]].code == rule["id"]
        place = result["locations"][0]["physicalLocation"]
        assert place["artifactLocation"]["uri"] == CHARGE
        assert run["artifacts"][place["artifactLocation"]["index"]]["location"]["uri"] == CHARGE
    by_rule = {r["ruleId"]: r for r in reversed(run["results"])}
    vague = by_rule[rule_named("vague-torque").code]
    region = vague["locations"][0]["physicalLocation"]["region"]
    assert text[region["startLine"] - 1][region["startColumn"] - 1 : region["endColumn"] - 1] == "snug"
    assert vague["level"] == "warning"
    opened = by_rule[rule_named("open-before-released").code]
    stops = opened["codeFlows"][0]["threadFlows"][0]["locations"]
    assert stops[0]["location"]["message"]["text"] == "Watch the dock lamp: Green all the time"
    first = stops[0]["location"]["physicalLocation"]["region"]
    assert text[first["startLine"] - 1] == "### Watch the dock lamp"
    assert stops[-1]["location"]["physicalLocation"] == opened["locations"][0]["physicalLocation"]
    assert "{{isolates}}" in opened["message"]["text"]
    change = opened["fixes"][0]["artifactChanges"][0]
    assert change["artifactLocation"]["uri"] == CHARGE
    assert "make-safe" in change["replacements"][0]["insertedContent"]["text"]
    assert opened["fixes"][0]["properties"] == {"alone": False, "leavesBlank": True}


def test_every_rule_makes_a_whole_descriptor(library):
    span = Span("a.md", 1, 1, 1, 2)
    found = tuple(Diagnostic(r.name, r.severity, "m", span, code=r.code) for r in all_rules().values())
    log = judged(sarif.render(Checked(found, ("a.md",), site_url="https://lib.invalid/x/")))
    descriptors = log["runs"][0]["tool"]["driver"]["rules"]
    assert len(descriptors) == len(all_rules())
    for each in descriptors:
        rule = all_rules()[each["name"]]
        assert each["helpUri"] == f"https://lib.invalid/x/{rule_address(rule)}"
        assert each["help"]["markdown"].startswith(f"# {each['id']} {each['name']}\n")
        assert each["defaultConfiguration"]["level"] == sarif.LEVELS[rule.severity]
        assert each["fullDescription"]["text"].startswith(each["shortDescription"]["text"].rstrip("."))
        assert len(each["shortDescription"]["text"]) > 15


def test_no_help_address_without_a_site(faulty, check):
    (faulty / "mkdocs.yml").unlink()
    _, out, _ = check("--format", "sarif", CHARGE)
    rules = judged(out)["runs"][0]["tool"]["driver"]["rules"]
    assert rules and not any("helpUri" in rule for rule in rules)


def test_names_of_files_are_percent_encoded(library, check):
    odd = library / "procedures" / "lift" / "größe #1 50%.md"
    shutil.move(library / CHARGE, odd)
    edit(library, "Undo the mast screws.", "Undo the mast screws roughly.", odd)
    _, out, _ = check("--format", "sarif")
    found = judged(out)["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]
    assert found["uri"] == "procedures/lift/gr%C3%B6%C3%9Fe%20%231%2050%25.md"
    assert unquote(found["uri"]) == odd.relative_to(library).as_posix()
    assert found["uriBaseId"] in json.loads(out)["runs"][0]["originalUriBaseIds"]


def test_a_file_elsewhere_has_a_full_address(faulty, check, tmp_path_factory, monkeypatch):
    monkeypatch.chdir(tmp_path_factory.mktemp("elsewhere"))
    _, out, _ = check("--format", "sarif", faulty / CHARGE)
    found = judged(out)["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]
    assert found["uri"] == (faulty / CHARGE).as_uri()
    assert "uriBaseId" not in found


def test_same_findings_same_bytes_and_nothing_of_the_machine(faulty, check, tmp_path_factory, monkeypatch):
    first = check("--format", "sarif")[1]
    assert check("--format", "sarif")[1] == first
    other = tmp_path_factory.mktemp("moved") / "x"
    shutil.copytree(faulty, other)
    monkeypatch.chdir(other)
    assert check("--format", "sarif")[1] == first
    assert str(faulty) not in first


def test_a_fault_of_the_tool_is_told_as_a_run_that_failed():
    span = Span("a.md", 1, 1, 1, 2)
    found = Diagnostic("tool-fault", Severity.ERROR, "the tool itself failed in x: {0}", span)
    invocation = judged(sarif.render(Checked((found,), ("a.md",))))["runs"][0]["invocations"][0]
    assert invocation["executionSuccessful"] is False
    assert invocation["toolExecutionNotifications"][0]["message"]["text"].endswith("{{0}}")


def test_a_finding_with_everything_and_an_unknown_rule():
    span, there = Span("a.md", 2, 1, 2, 1), Span("b.md", 1, 1, 3, 4)
    fix = Fix(
        "write both", (Edit(span, "x\n"), Edit(there, ""), Edit(Span("a.md", 4, 1, 4, 2), "y")), alone=True
    )
    found = Diagnostic(
        "no-such-rule", Severity.HINT, "m {x} [y](z)", span, "help", "why",
        (Label(there, "see {here}"),), (Hop("start", "yes"), Hop("then", "", there, 3)), "", (fix,),
    )  # fmt: skip
    result = judged(sarif.render(Checked((found,), ("a.md",), {"a.md": Source("a.md", "one\ntwo\n")})))[
        "runs"
    ][0]["results"][0]
    assert "ruleIndex" not in result and result["ruleId"] == "no-such-rule" and result["level"] == "note"
    assert result["message"]["text"] == "m {{x}} [y](z)\nwhy\nhelp"
    assert result["relatedLocations"][0]["id"] == 1
    stops = result["codeFlows"][0]["threadFlows"][0]["locations"]
    assert "physicalLocation" not in stops[0]["location"]
    assert "3 steps left out" in stops[1]["location"]["message"]["text"]
    changes = result["fixes"][0]["artifactChanges"]
    assert [(c["artifactLocation"]["uri"], len(c["replacements"])) for c in changes] == [
        ("a.md", 2),
        ("b.md", 1),
    ]


CASES = Path(__file__).parent.parent / "cases"


def test_the_cases_of_the_checks_make_valid_logs(check, monkeypatch):
    """Every file that the tests of the rules know, broken in every way they know."""
    monkeypatch.chdir(CASES)
    code, out, _ = check("--format", "sarif", *sorted(f for f in CASES.iterdir() if f.is_dir()))
    run = judged(out)["runs"][0]
    assert code == 1
    assert len({r["ruleId"] for r in run["results"]}) > 80
    marks = [
        (r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], *r["partialFingerprints"].values())
        for r in run["results"]
    ]
    assert len(marks) == len(set(marks))
    assert all(re.fullmatch("[0-9a-f]{64}", mark) for _, mark in marks)


@pytest.mark.parametrize("severity", list(Severity))
def test_every_severity_has_a_level_of_the_standard(severity):
    levels = SCHEMA["definitions"]["result"]["properties"]["level"]["enum"]
    assert sarif.LEVELS[severity] in levels
