"""The writing rules and the sentences they read; limits after ASD-STE100 (read in a summary by tcworld)."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.check.asking import ask, shown
from tests.check.pages import library_of

from kilter.check.grammar import condition_after, imperative_at, second_instruction
from kilter.check.prose import MARK, Sentence, sentences_in
from kilter.check.rule import Context, all_rules
from kilter.diagnostic import Severity
from kilter.read.library import read_library

DEMO = Path(__file__).parents[2] / "procedures"


def sentences(text: str, folder: Path) -> tuple[Sentence, ...]:
    document = library_of(text, folder).documents["example.md"]
    step = next(s for _, s in document.all_steps() if s.slug == "do-the-work")
    return sentences_in(step.blocks)


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        ("Undo the nut. Lift it off.", [3, 3]),
        ("Set it to 0.5 mm. Then stop.", [4, 2]),
        ("Use grease, e.g. lithium soap. Wipe it off.", [5, 3]),
        ("See fig. 3 of the manual. Go on.", [6, 2]),
        ("Tighten it to {torque}`22 ± 2 N·m` with the {tool}`torque wrench`. Stop.", [7, 1]),
        ("Undo the nut ({item}`fig 1`). Lift it.", [3, 2]),
        ("Lower the boom ({runs-on}`battery` or the hand release) onto the stand.", [11]),
        ("Is it **dry?** Then go on! Good.", [3, 3, 1]),
        ("Press `OK`. Press `Stop` twice.", [2, 3]),
        ("Read 27.3 ± 0.3 V at X4.", [5]),
        ("- Undo the nut\n- Lift it off\n\nRead it.", [3, 3, 2]),
        ("Undo the\nnut. Lift\nit off.", [3, 3]),
    ],
)
def test_sentences_and_their_words(text: str, counts: list[int], tmp_path: Path) -> None:
    found = sentences(f"{text}\n", tmp_path)
    assert [len(s.words) for s in found] == counts


def test_a_sentence_knows_its_place(tmp_path: Path) -> None:
    text = "Undo the nut. Lift the {tool}`voltmeter` off the\nhook. Stop.\n"
    first, second, third = sentences(text, tmp_path)
    row = first.span.line
    assert (first.span.column, first.span.end_column) == (1, 14)
    assert (second.span.column, second.span.end_line, second.span.end_column) == (15, row + 1, 6)
    assert (third.span.line, third.span.column) == (row + 1, 7)
    assert [r.name for r in second.roles] == ["tool"]


@pytest.mark.parametrize(
    "text",
    [
        "Undo the nut.", "Now lift it off.", "Never reach in.", "Do not reach in.", "Don’t reach in.", "Stop.",
        "If the hose is cracked, change it.", "With the other hand, hold the bar.", "Before you go on, wait.",
        "Slowly turn the key.", "Zip the bag shut.", f"Oil the {MARK}.", "Press down.", "Lock it.", "Press each latch.",
    ],
)  # fmt: skip
def test_instructions(text: str) -> None:
    assert imperative_at(text) is not None


@pytest.mark.parametrize(
    "text",
    [
        "The nut is loose.", "It kills.", "Touching it kills.", "Oil drips.", "Oil under pressure cuts.", "Both are dead.",
        "If the lamp was wrong, the workshop starts here.", "Spilt oil makes people fall.", "Nothing moves.",
        "Power can come back.", "Heat rises.", "Lock is broken.", "There is a spring.", "Two screws hold it.",
    ],
)  # fmt: skip
def test_descriptions(text: str) -> None:
    assert imperative_at(text) is None


@pytest.mark.parametrize(
    ("text", "second"),
    [
        ("Undo both screws and lift the cover off.", " and lift"),
        ("Press the red stop, then slide the pack out.", ", then slide"),
        ("Lift it off and then turn it.", " and then turn"),
        ("Undo the nut; lift the cover.", "; lift"),
        ("Take it out and stop.", " and stop"),
        ("Open and shut the door.", None),
        ("Fit the base cover and its screws.", None),
        ("Look at the body and the lead and the wires.", None),
        ("Hold the bar while you turn and push the nut.", None),
        ("Hold the bar and turn the nut at the same time.", None),
        ("The cover drops and the spring lets go.", None),
        ("Look at the heater and drive wheel.", None),
    ],
)
def test_second_instruction(text: str, second: str | None) -> None:
    found = second_instruction(text)
    assert (text[found[0] : found[1]] if found else None) == second


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("Change the hose if it is cracked.", "if"),
        ("Stop, when it moves.", "when"),
        ("Change the hose unless it is new.", "unless"),
        ("If it is cracked, change the hose.", None),
        ("See if the lamp is lit.", None),
        ("Write down if it moves.", None),
        ("Turn the screw out until it is loose.", None),
        ("Hold it as if it were hot.", None),
        ("The lamp is dark when docked.", None),
    ],
)
def test_condition_after(text: str, word: str | None) -> None:
    found = condition_after(text)
    assert (text[found[0] : found[1]] if found else None) == word


@pytest.mark.parametrize(
    ("rule", "text", "points_at"),
    [
        ("long-instruction", "Undo " + "the very " * 10 + "nut.", "Undo " + "the very " * 10 + "nut."),
        ("long-description", "The nut is " + "very " * 23 + "old.", "The nut is " + "very " * 23 + "old."),
        ("two-instructions", "Undo both screws and lift the cover off.", " and lift"),
        ("not-imperative", "The screws are removed.", "The screws are removed"),
        ("not-imperative", "The cover should be lifted off.", "should be lifted"),
        ("not-imperative", "The technician should lift it.", "The technician should"),
        ("condition-last", "Change the hose if it is cracked.", "if"),
        ("note-instructs", "Undo it.\n\nNote: Keep the washer.", "Note: Keep the washer."),
        ("note-instructs", "Undo it.\n\n**Note** Keep the washer.", "Note** Keep the washer."),
        ("vague-torque", "Tighten both screws firmly.", "Tighten both screws firmly"),
        ("vague-torque", "Run the nut up until tight.", "until tight"),
        ("vague-torque", "Make it snug.", "snug"),
        ("vague-torque", "Screw it in hand-tight.", "hand-tight"),
        ("vague-word", "Turn it a little.", "a little"),
        ("vague-word", "Slide it by about 5 mm.", "about "),
        ("vague-word", "Slide it by ~5 mm.", "~"),
        ("vague-word", "Slide it by approx. {set}`5 ± 1 mm`.", "approx. "),
        ("vague-word", "Grease it as required.", "as required"),
        ("vague-word", "If necessary, grease it.", "If necessary"),
    ],
)
def test_says_it_at_the_right_place(rule: str, text: str, points_at: str, tmp_path: Path) -> None:
    (found,) = ask(rule, text + "\n", tmp_path)
    assert shown(found, tmp_path) == points_at
    assert found.severity < Severity.ERROR
    assert found.help


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ("long-instruction", "Undo " + "the very " * 9 + "nut."),
        ("long-description", "The nut is " + "very " * 21 + "old."),
        ("not-imperative", "The lamp is lit."),
        ("not-imperative", "Lift it until the cover is removed."),
        ("not-imperative", "The drive must stay dead."),
        ("note-instructs", "Undo it.\n\nNote: The washer is used again."),
        ("note-instructs", "Note the reading. Undo it."),
        ("vague-torque", "Run the nut up hand tight. Tighten it to {torque}`5 ± 1 N·m`."),
        ("vague-torque", "Run the nut up finger tight, so that the bracket can slide."),
        ("vague-torque", "Push it firmly."),
        ("vague-torque", "See that the pivots are tight."),
        ("vague-word", "Turn it a little: {set}`0.5 ± 0.1 turns`."),
        ("vague-word", "Talk about the lamp."),
        ("vague-word", "Grease it if necessary, because dry pins seize."),
    ],
)
def test_is_quiet(rule: str, text: str, tmp_path: Path) -> None:
    assert ask(rule, text + "\n", tmp_path) == []


def test_the_demo_library_is_well_written() -> None:
    """No warning or error of these families; a hint is a sentence that could still be better."""
    library = read_library(DEMO, base=DEMO)
    assert len(library.documents) > 5
    said = []
    for document in library.documents.values():
        context = Context(library, document, library.profile_of(document))
        for rule in all_rules().values():
            if rule.family in ("values", "panels", "writing") and rule.check is not None:
                said += [f"{d.span} {d.message}" for d in rule.check(context) if d.severity > Severity.HINT]
    assert said == []
