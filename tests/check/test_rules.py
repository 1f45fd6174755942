"""Guards of the collection of rules: every page is whole, and its examples do what they say."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.check.pages import Example, examples, report_of

import kilter
from kilter.check.rule import Rule, all_rules, find_rule
from kilter.diagnostic import Severity

RULES = list(all_rules().values())
HUNDREDS = {
    "syntax": 1,
    "structure": 2,
    "values": 3,
    "panels": 4,
    "writing": 5,
    "pictures": 6,
    "energy": 7,
    "cards": 8,
    "training": 9,
}
CASES = Path(__file__).parents[1] / "cases"
_RAISED = re.compile(
    r"(?:\b(?:error|warning|hint|UnreadableError|_refuse|Diagnostic)\(|\bRULE = |\brule=)\s*\"([a-z]+(?:-[a-z]+)*)\""
)
EXAMPLES = [e for rule in RULES for e in examples(rule)]


def _named(rule: Rule) -> str:
    return rule.name


@pytest.mark.parametrize("rule", RULES, ids=_named)
def test_page_opens_with_code_and_name_and_says_how_to_mend(rule: Rule) -> None:
    assert rule.page.splitlines()[0] == f"# {rule.code} {rule.name}"
    what, mend = rule.page.split("## Mend it", 1)
    assert len(what.split("\n", 1)[1].split()) >= 8
    assert len(mend.split("```")[0].split()) >= 5


@pytest.mark.parametrize("rule", RULES, ids=_named)
def test_page_shows_what_fails_and_what_passes(rule: Rule) -> None:
    shown = examples(rule)
    if re.search(r"^no example: \S+ \S+ \S+", rule.page, re.M):
        module = rule.name.replace("-", "_")
        shown_in = [*CASES.glob(f"{rule.name}*"), *Path(__file__).parent.glob(f"test_{module}.py")]
        texts = (f.read_text(encoding="utf-8") for f in CASES.parent.rglob("test_*.py"))
        named = any(f'"{rule.name}"' in text for text in texts)
        assert shown_in or named, f"tests/cases/{rule.name}* is missing, and no test names the rule"
        return
    assert any(e.fails for e in shown)
    assert any(not e.fails for e in shown)


@pytest.mark.parametrize("rule", RULES, ids=_named)
def test_every_fence_of_a_page_is_an_example(rule: Rule) -> None:
    fences = [row for row in rule.page.splitlines() if re.match(r"`{3,}\S", row)]
    assert len(fences) == len(examples(rule))


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda e: e.id)
def test_example_does_what_its_page_says(example: Example, tmp_path: Path) -> None:
    found = report_of(example.text, tmp_path).all()
    said = [f"{d.span}: {d.severity}: {d.message} [{d.rule}]" for d in found]
    names = {d.rule for d in found}
    if example.fails:
        assert example.rule in names, said
    else:
        assert example.rule not in names, said
        syntax = {r.name for r in RULES if r.family == "syntax"}
        unread = [s for s, d in zip(said, found, strict=True) if d.rule in syntax]
        assert not unread


def test_frame_is_sound(tmp_path: Path) -> None:
    found = report_of("Change the {part}`actuator`.\n", tmp_path).all()
    assert [f"{d.span}: {d.message} [{d.rule}]" for d in found if d.severity is not Severity.HINT] == []


def test_names_and_codes_are_unique() -> None:
    modules = list((Path(kilter.__file__).parent / "check" / "rules").glob("*/[a-z]*.py"))
    assert len(modules) == len({m.stem for m in modules}) == len(RULES)
    assert len({r.code for r in RULES}) == len(RULES)


@pytest.mark.parametrize("rule", RULES, ids=_named)
def test_code_fits_the_family(rule: Rule) -> None:
    assert re.fullmatch(rf"K{HUNDREDS[rule.family]}\d\d", rule.code)
    assert isinstance(rule.severity, Severity)


@pytest.mark.parametrize("rule", RULES, ids=_named)
def test_rule_is_found_by_name_and_by_code(rule: Rule) -> None:
    assert find_rule(rule.name.upper()) is rule
    assert find_rule(rule.code.lower()) is rule


def test_every_rule_that_is_raised_has_a_page() -> None:
    raised: dict[str, str] = {}
    proved = any(r.family == "energy" for r in RULES)
    for file in Path(kilter.__file__).parent.rglob("*.py"):
        if file.parent.name == "flow" and not proved:
            continue  # the energy analysis is older than the first page of its family
        if file.parent.name == "records":
            continue  # what is wrong in a record is no finding of the check
        for match in _RAISED.finditer(file.read_text(encoding="utf-8")):
            raised[match.group(1)] = file.name
    assert len(raised) > 30
    assert {n: f for n, f in raised.items() if n not in all_rules()} == {}


def test_every_rule_without_a_check_is_raised_somewhere() -> None:
    text = "".join(f.read_text(encoding="utf-8") for f in Path(kilter.__file__).parent.rglob("*.py"))
    idle = [r.name for r in RULES if not r.check and not r.check_library and f'"{r.name}"' not in text]
    assert idle == []
