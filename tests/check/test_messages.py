"""The words of the findings about energy: how one gets there, where to write what, and no mistake told twice."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.check.frame import END
from tests.check.pages import library_of

from kilter.check.run import check_library
from kilter.diagnostic import Diagnostic
from kilter.report.json import as_data
from kilter.report.text import TextReport

AGAIN = """## Work

### Change the part

Change the {part}`actuator`.

### Close it

Fit the {refits}`side cover`.

### Count the tools

Send everybody clear: {all-clear}`people and tools`.

### Hang the pack on

Hang the pack on: {restores}`battery`.

### Listen to it

Listen to the rig: {tests}`full run`.

- Quiet: [Hand it back](#hand-it-back)
- It rattles: [Take the cover off again](#take-the-cover-off-again) {not-ok}
"""
OPEN_AGAIN = "### Take the cover off again\n\nLift the {removes}`side cover` off.\n"


def said(text: str, folder: Path) -> dict[str, Diagnostic]:
    """Findings about energy by rule, the first of each."""
    found = check_library(library_of(text, folder)).all()
    return {d.rule: d for d in reversed(found) if d.code.startswith("K7")}


def help_of(text: str, rule: str, folder: Path) -> str:
    return said(text, folder)[rule].help


def test_a_way_shows_where_steps_are_left_out(tmp_path: Path) -> None:
    found = said(f"{AGAIN}\n{OPEN_AGAIN}", tmp_path)["open-before-released"]
    text = TextReport({}, False).one(found)
    assert (
        "  way in: Isolate the rig -> ... 4 steps ... -> Prove it dead -> *All dead* -> ... 4 steps ... -> Hang the "
        "pack on -> Listen to it -> *It rattles* -> Take the cover off again\n" in text
    )
    way = json.loads(json.dumps(as_data(found)))["way"]
    assert [stop["skipped"] for stop in way] == [0, 4, 4, 0, 0]
    assert [stop["step"] for stop in way][1:3] == ["Prove it dead", "Hang the pack on"]


def test_a_gap_of_one_step_is_named(tmp_path: Path) -> None:
    found = said(
        "### Wait\n\nWait {wait}`2 s`.\n\n### Put heat on\n\nSwitch on: {restores}`heat`.\n", tmp_path
    )
    text = TextReport({}, False).one(found["restore-people-near"])
    assert "*All dead* -> ... 2 steps ... -> Put heat on\n" in text
    found = said("### Put heat on\n\nSwitch on: {restores}`heat`.\n", tmp_path)
    text = TextReport({}, False).one(found["restore-people-near"])
    assert "*All dead* -> Take the cover off -> Put heat on\n" in text


def test_a_long_way_to_a_dead_end_says_that_its_beginning_is_left_out(tmp_path: Path) -> None:
    lost = "### Look\n:hands: away - nothing is touched here\n\nLook at it.\n\n- Dark: [Lost](#lost)\n- Lit: [Put the cover on](#put-the-cover-on)\n"
    end = f"{END}\n### Lost\n:hands: away - nothing is touched here\n\nLook at it.\n"
    frame = library_of(lost, tmp_path)
    text = frame.sources[next(p for p in frame.sources if p.endswith("example.md"))].text
    found = said(f"=== a.md ===\n{text}{end.removeprefix(END)}\n", tmp_path)["dead-end"]
    assert len(found.way) == 6
    assert "  way in: ... 4 steps ... -> Leave" not in TextReport({}, False).one(found)
    assert TextReport({}, False).one(found).count("... 3 steps ... -> ") == 1


def test_advice_stays_inside_one_stage(tmp_path: Path) -> None:
    """Where the place between two steps spans stages, the stage to write in is named."""
    same = help_of(f"{AGAIN}\n{OPEN_AGAIN}", "open-before-released", tmp_path)
    assert same.startswith(
        "between `Hang the pack on` and `Take the cover off again` isolate and hold it again"
    )
    other = help_of(f"{AGAIN}\n## Once more\n\n{OPEN_AGAIN}", "open-before-released", tmp_path)
    assert other.startswith(
        "in stage `Once more`, before `Take the cover off again`, isolate and hold it again"
    )


def test_what_nothing_can_cut_off_is_let_out_again_once_it_was_loaded(tmp_path: Path) -> None:
    wound = "### Wind the nut in\n:hands: controls - the lever is outside\n\nWind the nut in: {loads}`spring`.\n\n"
    found = help_of(f"{wound}### Oil the pin\n\nOil the pin once.\n", "inside-before-proved", tmp_path)
    assert found == "between `Wind the nut in` and `Oil the pin` let the energy out: {releases}`spring`"


def test_advice_about_a_loop_says_on_which_way(tmp_path: Path) -> None:
    text = AGAIN.replace("### Change the part", f"{OPEN_AGAIN}\n### Change the part")
    back = help_of(text, "open-before-released", tmp_path)
    assert back.startswith(
        "on the way back from `Hang the pack on`, before `Take the cover off again`, isolate"
    )


@pytest.mark.parametrize(
    ("words", "begin"),
    [
        ("Look at the belt. Listen to the fan.", "write `:hands: away - why nobody touches it`;"),
        ("Then write down what the scale shows.", "write `:hands: away - why nobody touches it`;"),
        (
            "Look at the belt. Turn the knob.",
            "mark what is done, take a guard off in a step before, or write",
        ),
        ("Change the belt.", "mark what is done, take a guard off in a step before, or write"),
    ],
)
def test_a_step_that_only_looks_is_offered_hands_away(words: str, begin: str, tmp_path: Path) -> None:
    step = f"## Look\n\n### Make it so\n\nFit the {{refits}}`side cover`.\n\n### Look at it\n\n{words}\n"
    assert help_of(step, "guards-still-on", tmp_path).startswith(begin)


def test_the_consequence_of_a_panel_is_known_by_words_that_are_told(tmp_path: Path) -> None:
    panel = ":::{warning} spring\n**Recoil.** Keep your face away.\n:::\n"
    found = check_library(library_of(f"### Undo it\n\n{panel}\nUndo the nut.\n", tmp_path)).all()
    (one,) = (d for d in found if d.rule == "panel-consequence")
    assert "can, could, may, might, will, or a word of harm or damage" in one.help
