"""Item-writing lints on hand-written questions; what each should say was written down before the lint was run."""

import pytest

from kilter.check.itemwriting import cues, wording

WRONG = ["the pack is full", "the dock is cold", "the lift is idle"]
STEM = "What does a dark lamp mean?"


@pytest.mark.parametrize(
    ("stem", "choices", "said"),
    [
        (STEM, ["the dock gives no power to the plungers at all", *WRONG], "longest by far"),
        (STEM, ["dead", *[f"{w} and warm" for w in WRONG]], "shortest by far"),
        (STEM, ["the dock is dead", "the pack is always full", *WRONG[1:]], "says always"),
        (STEM, ["the lamp is dead", *WRONG], "repeats `lamp`"),
        ("How much does it give?", ["12 V", "the same", "24 V"], "are numbers and some are words"),
        ("How much does it give?", ["12 V", "12 mV", "24 V"], "not all in one unit"),
        (STEM, ["the dock is dead.", *WRONG], "full stop"),
        (STEM, ["The dock is dead", *WRONG], "capital"),
    ],
)
def test_a_cue_is_told(stem, choices, said):
    assert any(said in found for found in cues(stem, choices, 0))


@pytest.mark.parametrize(
    ("stem", "choices", "said"),
    [
        (STEM, ["all of the above", *WRONG], "about the other choices"),
        ("What does a dark lamp not mean?", ["the dock is dead", *WRONG], "what is not so"),
        (STEM, ["the dock is not live", *WRONG], "some choices say no"),
        ("A dark lamp.", ["the dock is dead", *WRONG], "no question"),
        (" ".join(["lamp"] * 31) + "?", ["the dock is dead", *WRONG], "31 words"),
        ("A dark lamp means ____?", ["the dock is dead", *WRONG], "blank inside"),
        ("A dark lamp is a?", ["dead dock", "full pack"], "before the choices"),
        (STEM, ["that the dock is dead", "that the pack is full"], "begins with"),
    ],
)
def test_hard_wording_is_told(stem, choices, said):
    assert any(said in found for found in wording(stem, choices))


@pytest.mark.parametrize(
    ("stem", "choices"),
    [
        (STEM, ["the dock is dead", *WRONG]),
        ("How tight is the pad screw?", ["1.2 N·m", "2.4 N·m", "0.6 N·m"]),
        ("Which comes first?", ["park the boom", "open the base", "prove it dead"]),
        (
            "One rail does not click. What is done with it?",
            ["it is tagged", "a strap holds it", "the switch is set"],
        ),
        ("Which of these is an exception, NOT allowed here?", ["a tag", "a lock", "a pin"]),
    ],
)
def test_good_questions_are_left_alone(stem, choices):
    assert [*cues(stem, choices, 0), *wording(stem, choices)] == []
