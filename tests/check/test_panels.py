"""The rules about panels."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.check.asking import ask, shown

from kilter.diagnostic import Severity

PARTS = ("panel-hazard", "panel-consequence", "panel-avoidance")


def panel(text: str, head: str = "warning} spring") -> str:
    return f"### Undo the nut\n\n:::{{{head}\n{text}\n:::\n\nUndo the nut.\n"


@pytest.mark.parametrize(
    "text",
    [
        "**Recoil.** The spring can fly out. It can break a finger. Let the spring out first.",
        "**Electric shock.** Touching it kills. Lock the plug in its case and prove the terminals dead.",
        "**Cuts.** The blades are sharp and cut. Never reach in.",
        "**Burns.** The plate burns the skin.\n\nBefore you touch it, measure it.",
        "**Crushing** The deck may drop: keep your feet away. Do not reach under the deck.",
        "**Oil under pressure.** A jet goes through the skin and can cost the hand. Relieve the column first.",
        "**Infection.** Residues may infect you. Don't eat here, and wear gloves. Always wash your hands.",
        "**Recoil.** The spring could fly out. Zip the guard shut first.",
    ],
)
def test_whole_panels_pass(text: str, tmp_path: Path) -> None:
    for rule in PARTS:
        assert ask(rule, panel(text), tmp_path) == []


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("panel-hazard", "The spring can fly out. Let it out first."),
        ("panel-hazard", "*Recoil.* The spring can fly out. Let it out first."),
        ("panel-hazard", "**Warning!** The spring can fly out. Let it out first."),
        ("panel-hazard", "- **Recoil.** The spring can fly out. Let it out first."),
        ("panel-consequence", "**Recoil.** Let the spring out first."),
        ("panel-consequence", "**Recoil.** Lock the plug, so that nobody can plug it in."),
        ("panel-consequence", "**The spring can break a finger.** Let it out first."),
        ("panel-avoidance", "**Recoil.** The spring can fly out. It can break a finger."),
        (
            "panel-avoidance",
            "**Oil.** Oil drips on the floor and can make you fall. Oil under pressure can cut.",
        ),
        ("panel-avoidance", "**Recoil. Let the spring out first.** The spring can fly out."),
        ("panel-avoidance", "**Recoil.** If the spring is loaded, it can fly out. This is dangerous."),
    ],
)
def test_a_missing_part_is_an_error_with_sources_and_a_warning_without(
    rule: str, text: str, tmp_path: Path
) -> None:
    (found,) = ask(rule, panel(text), tmp_path)
    assert found.severity is Severity.ERROR
    assert shown(found, tmp_path) == "warning"
    (found,) = ask(rule, panel(text, "caution}"), tmp_path)
    assert found.severity is Severity.WARNING


def test_a_consequence_in_unusual_words_is_doubted_not_refused(tmp_path: Path) -> None:
    (found,) = ask(
        "panel-consequence", panel("**Shock.** It makes the whole arm jump. Take the pack out."), tmp_path
    )
    assert found.severity is Severity.WARNING


def test_panels_of_stage_and_document_are_read_too(tmp_path: Path) -> None:
    bare = ":::{danger} battery\nIt kills. Lock it.\n:::\n"
    stage = f"## Change it\n\n{bare}\n### Undo the nut\n\nUndo the nut.\n"
    assert len(ask("panel-hazard", stage, tmp_path)) == 1
    whole = f"# Change it\n\n{bare}\n## Change it\n\n### Undo the nut\n\nUndo the nut.\n"
    assert len(ask("panel-hazard", whole, tmp_path)) == 1


@pytest.mark.parametrize(
    ("before", "late"),
    [
        ("Undo the nut.\n", True),
        ("- Undo the nut.\n- Take it off.\n", True),
        ("", False),
        (":hands: inside\n", False),
    ],
)
def test_a_panel_stands_before_its_instruction(before: str, late: bool, tmp_path: Path) -> None:
    text = f"{before}\n:::{{caution}}\n**Sharp edge.** It can cut. Wear gloves.\n:::\n\nTake it off.\n"
    assert bool(ask("panel-late", text, tmp_path)) is late


def test_a_source_named_in_words_only_gets_a_hint(tmp_path: Path) -> None:
    text = "**Recoil.** The spring can fly out. Let it out first."
    (found,) = ask("panel-source", panel(text, "caution}"), tmp_path)
    assert found.severity is Severity.HINT
    assert "caution} spring`" in found.help
    assert ask("panel-source", panel(text), tmp_path) == []
    springy = "**Sharp edge.** The offspring of a bad cut is a springy burr. It can cut. Wear gloves."
    assert ask("panel-source", panel(springy, "caution}"), tmp_path) == []


@pytest.mark.parametrize(
    ("head", "text", "quiet"),
    [
        ("notice}", "**Lost setting.** The bracket can slip. Hold it with your hand.", True),
        ("notice}", "**Burr.** The edge can injure. Wear gloves.", False),
        ("notice}", "**Burr.** The edge hurts the fingers. Wear gloves.", False),
        ("notice} spring", "**Lost setting.** The bracket can slip. Hold it.", False),
        ("caution}", "**Burr.** The edge hurts the fingers. Wear gloves.", True),
    ],
)
def test_a_notice_is_about_things(head: str, text: str, quiet: bool, tmp_path: Path) -> None:
    assert (ask("notice-injury", panel(text, head), tmp_path) == []) is quiet


@pytest.mark.parametrize(
    ("mark", "quiet"),
    [
        ("{isolates}`battery`", False),
        ("{wait}`5 min`", False),
        ("{torque}`5 ± 1 N·m`", False),
        ("{tool}`voltmeter`", True),
        ("{part}`actuator`", True),
    ],
)
def test_marks_in_a_panel(mark: str, quiet: bool, tmp_path: Path) -> None:
    found = ask("panel-mark", panel(f"**Shock.** It can kill. Mind it: {mark}."), tmp_path)
    assert (found == []) is quiet
    for each in found:
        assert shown(each, tmp_path) == mark
