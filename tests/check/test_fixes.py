"""What single fixes write, and which of them may be made with nobody looking."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.check.frame import END, FRONT, PROFILE, PROFILE_BODY, SAFE
from tests.check.pages import files_of
from tests.check.test_any_text import PARTS

from kilter.check.run import check_library
from kilter.diagnostic import Diagnostic, Fix
from kilter.mend.apply import apply
from kilter.model.library import Library
from kilter.read.document import read_bytes


def library_with(files: dict[str, str]) -> Library:
    library = Library(Path("procedures"))
    for name, text in files.items():
        library.add(read_bytes(name, text.encode("utf-8", "surrogatepass")))
    return library


def findings(files: dict[str, str]) -> list[Diagnostic]:
    return check_library(library_with(files)).all()


def offered(example: str, rule: str) -> list[tuple[str, Fix, str]]:
    """Rows that each fix of a rule writes into an example (new or changed), the fix and the title."""
    files = files_of(example)
    found = [d for d in findings(files) if d.rule == rule]
    assert found, f"no {rule} in the example"
    result = []
    for fix in max(found, key=lambda d: len(d.fixes)).fixes:
        done = apply(files, [fix])
        assert done.made == (fix,)
        old = {row for text in files.values() for row in text.split("\n")}
        new = [row for name in files for row in done.texts[name].split("\n") if row not in old]
        result.append(("\n".join(new), fix, fix.title))
    return result


ANSWERS = "- Green: [Carry on](#test-the-rig)\n- Dark: [Tag it](#stop-and-tag)\n"

WRITES = [
    ("answer-form", "Look at the lamp.\n\n" + ANSWERS.replace("Green:", "Green"), "- Green: [Carry on](#test-the-rig)"),
    ("answer-form", "Look at the lamp.\n\n" + ANSWERS.replace("[Tag it](#stop-and-tag)", "#stop-and-tag"),
     "- Dark: [Stop and tag](#stop-and-tag)"),
    ("answer-form", "Look at the lamp.\n\n" + ANSWERS.replace("[Tag it](#stop-and-tag)", "#stop-and-tag {not-ok}"),
     "- Dark: [Stop and tag](#stop-and-tag) {not-ok}"),
    ("stray-brace", "Look at the lamp.\n\n" + ANSWERS.replace("tag)\n", "tag) {not-okay}\n"),
     "- Dark: [Tag it](#stop-and-tag) {not-ok}"),
    ("bad-hands", ":hands: control - the cover is off, nobody reaches in\n\nLook.", ":hands: controls - the cover is off, nobody reaches in"),
    ("bad-hands", ":hands: live boom\n\nLook.", ":hands: live boom - [fill in: why it has to be live]"),
    ("bad-exit", ":exit: left as fond\n\nLook.", ":exit: left as found"),
    ("short-reason", ":hands: controls - too far\n\nLook.", ":hands: controls - too far [fill in: more words, so that a reviewer can judge it]"),
    ("unknown-source", "Say {isolates}`bom`.", "Say {isolates}`boom`."),
    ("unknown-source", ":::{warning} bom\n**Crushing.** It can crush a hand. Keep off.\n:::\n\nLook.", ":::{warning} boom"),
    ("unknown-guard", "Lift the {removes}`sidecover` off.", "Lift the {removes}`side cover` off."),
    ("unknown-zone", ":zone: sid\n\nLook.", ":zone: side"),
    ("unknown-step", "Look.\n\n- Green: [On](#hand-it-bak)\n- Dark: [Tag](#stop-and-tag)\n", "- Green: [On](#hand-it-back)"),
    ("unknown-step", "Look.\n\n- Green: [On](hand-it-back)\n- Dark: [Tag](#stop-and-tag)\n", "- Green: [On](#hand-it-back)"),
    ("unit-unknown", "Use {torque}`5 ± 1 Newtonmeter`.", None),
    ("unit-unknown", "Use {set}`5 ± 1 kohms`.", None),
    ("unit-unknown", "Use {set}`5 ± 1 KV`.", "Use {set}`5 ± 1 kV`."),
    ("value-unreadable", "Use {set}`1,5 mm`.", "Use {set}`1.5 mm`."),
    ("range-reversed", "Use {set}`7–5 mm`.", "Use {set}`5 to 7 mm`."),
    ("energy-kinds", "none: [mains, hydraulic, pneumatic, vacum, motion, pressure]\n", "none: [mains, hydraulic, pneumatic, vacuum, motion, pressure]"),
    ("wait-without-time", "Wait 7 min.", "Wait {wait}`7 min`."),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "example", "row"), WRITES, ids=lambda v: str(v)[:50])
def test_a_fix_writes(rule: str, example: str, row: str | None) -> None:
    written = [new for new, _, _ in offered(example, rule)]
    assert written == ([] if row is None else [row])


def test_hands_of_a_bare_step_are_asked_for() -> None:
    bare = "# Change the worn part\n\n## Work\n\n### Read the scale\n\nLook at the scale.\n\n### Leave\n:exit: left locked out, tagged\n\nTag it.\n"
    fixes = offered(bare, "guards-still-on")
    assert [new for new, _, _ in fixes] == [
        ":hands: controls - [fill in: why nobody reaches in]",
        ":hands: away - [fill in: why nobody touches it]",
    ]
    assert all(title.startswith("do hands go inside? no: ") for _, _, title in fixes)
    inside = bare.replace("Look at the scale.", "Unscrew the board.")
    assert offered(inside, "guards-still-on") == []


def test_a_proof_gets_its_failing_answer_where_a_tagged_exit_stands() -> None:
    step = "Push the boom: {proves}`boom`.\n\n* It stands: [On](#test-the-rig)\n* It moves: [Tag](#stop-and-tag)\n"
    ((row, fix, _),) = offered(step, "no-failing-answer")
    assert row == "* [fill in: what is seen when it fails]: [Stop and tag](#stop-and-tag) {not-zero}"
    assert fix.leaves_blank
    assert not fix.alone


def test_a_missing_shared_stage_is_asked_for_in_a_step_above() -> None:
    text = (
        "# Change the worn part\n\n## Cut off {shared}\n\n### Lower it\n\nPin in the stand: {isolates}`boom`.\n\n"
        "## Work\n\n### Open it\n:clear-of: battery, capacitor, spring, heat - they stand behind the steel plate\n\n"
        "Lift the {removes}`side cover` off.\n\n### Leave\n:exit: left as found\n\nGo.\n"
    )
    ((row, fix, _),) = offered(text, "open-before-released")
    assert row == "### [fill in: name of this step, such as make it safe]\n:do: cut-off"
    assert fix.leaves_blank


def test_a_missing_wait_comes_in_a_step_above() -> None:
    text = (
        "# Change the worn part\n\n## Work\n\n### Cut\n\nLock it: {isolates}`battery`.\n\n"
        "### Prove\n\nMeasure: {proves}`capacitor`.\n\n- Zero: [Leave](#leave)\n- Not: [Leave](#leave) {not-zero}\n\n"
        "### Leave\n:exit: left locked out, tagged\n\nGo.\n"
    )
    ((row, fix, _),) = offered(text, "prove-before-released")
    assert row == "### [fill in: name of this step, such as let it drain]"
    assert fix.leaves_blank


def test_a_panel_that_is_too_mild_asks_what_makes_it_graver() -> None:
    text = (
        "# Change the worn part\n\n## Work\n\n### Open it\n:clear-of: boom, capacitor, spring, heat - they stand behind the steel plate\n\n"
        ":::{caution} battery\n**Shock.** It can burn a hand. Take it out.\n:::\n\n"
        "Lock the pack: {isolates}`battery`. Lift the {removes}`side cover` off.\n\n### Leave\n:exit: left locked out, tagged\n\nGo.\n"
    )
    ((rows, fix, _),) = offered(text, "missing-caution")
    assert rows == (
        ":::{warning} battery\n**Shock.** It can burn a hand. Take it out. [fill in: what makes it a warning]"
    )
    assert fix.leaves_blank


@pytest.mark.parametrize(
    ("value", "alone"),
    [
        ("1,5 mm", True),
        ("12,25 mm", True),
        (".5 mm", True),
        ("5 ± 1 Ν·m", True),
        ("٥ mm", True),
        ("7–5 mm", False),
        ("5 ± 1 nm", False),
    ],
)
def test_only_the_same_number_in_another_form_is_put_right_alone(value: str, alone: bool) -> None:
    files = files_of(f"Use {{set}}`{value}`.")
    rules = ("value-unreadable", "unit-unknown", "range-reversed")
    (found,) = (d for d in findings(files) if d.rule in rules)
    assert [f.alone for f in found.fixes] == [alone]


@pytest.mark.parametrize(
    ("example", "rule"),
    [
        ("Wait {wait}`1,5 min`.", "value-unreadable"),
        ("sources:\n  capacitor: {kind: capacitor, lockable: true, word: warning, release: bleed, bleed: '1,5 min'}\n",
         "profile-value"),
    ],
)  # fmt: skip
def test_a_time_that_the_proof_counts_with_is_for_a_person(example: str, rule: str) -> None:
    ((row, fix, _),) = offered(example, rule)
    assert "1.5 min" in row
    assert not fix.alone


def test_a_comma_before_three_digits_is_for_a_person() -> None:
    fixes = offered("Use {set}`1,500 mm`.", "value-unreadable")
    assert [new for new, _, _ in fixes] == ["Use {set}`1.500 mm`.", "Use {set}`1500 mm`."]
    assert not any(fix.alone for _, fix, _ in fixes)
    assert offered("Use {set}`1,500,000 mm`.", "value-unreadable") == []


@pytest.mark.parametrize(
    ("rule", "example", "alone"),
    [
        ("unknown-role", "Use the {tol}`torque wrench`.", True),
        ("unknown-role", "Use the {toool}`torque wrench`.", True),
        ("unknown-role", "Pull it: {isolate}`boom`.", False),
        ("unknown-field", ":orgin: shop rule\n\nLook.", True),
        ("unknown-field", ":zonee: side\n\nLook.", False),
        ("unknown-directive", ":::{figur} picture.png\n:alt: A picture of a part.\n:::\n\nLook.", True),
        (
            "unknown-directive",
            ":::{warnning} boom\n**Crushing.** It can crush. Keep off.\n:::\n\nLook.",
            False,
        ),
        ("near-miss", "Use the {tool}`torque-wrench`.", True),
        ("near-miss", "Use the {tool}`torque wrensh`.", False),
    ],
)
def test_what_the_proof_stands_on_is_never_spelt_right_alone(rule: str, example: str, alone: bool) -> None:
    assert [fix.alone for _, fix, _ in offered(example, rule)] == [alone]


@pytest.mark.parametrize(("more", "alone"), [("", True), ("\n\nWrite [fill in: what is read] down.", False)])
def test_a_comment_is_deleted_alone_only_where_nothing_is_missing(more: str, alone: bool) -> None:
    example = f"<!-- allow vague-word: the old word stays for now -->\n\nLook at the lamp.{more}"
    ((new, fix, _),) = offered(example, "unused-allowance")
    assert new == ""
    assert fix.alone is alone


def test_a_name_in_the_second_row_of_a_mark_is_spelt_there() -> None:
    ((row, _, _),) = offered("Say {isolates}`heat,\nbom`.", "unknown-source")
    assert row == "boom`."


BROKEN = st.lists(PARTS, max_size=10).map("\n".join)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(BROKEN, st.data())
def test_no_fix_of_any_text_makes_anything_fall_over(body: str, data: st.DataObject) -> None:
    for _ in range(data.draw(st.integers(0, 3))):
        at = data.draw(st.integers(0, len(body)))
        body = (
            body[:at]
            + data.draw(st.sampled_from(["`", "{", "}", ":", "\t", "\r", "- ", "#", "\u200b", "\n"]))
            + body[at:]
        )
    files = {
        "rig.md": f"---\n{PROFILE}---\n{PROFILE_BODY}",
        "a.md": f"---\n{FRONT}---\n{SAFE}\n## Work\n\n{body}\n{END}",
    }
    found = findings(files)
    assert [d.message for d in found if d.rule == "tool-fault"] == []
    for each in found:
        for fix in each.fixes:
            done = apply(files, [fix])
            assert done.made == (fix,), (each, fix)
            assert done.texts != files
    alone = [f for d in found for f in d.fixes if f.alone]
    after = findings(dict(apply(files, alone).texts))
    assert [d.message for d in after if d.rule == "tool-fault"] == []
