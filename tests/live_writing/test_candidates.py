"""Words that look like effects and values are found, named after the machine, and only listed."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kilter.live.writing.candidates import candidates
from kilter.mend.apply import apply
from kilter.read.document import read_text
from kilter.source import Source

ROOT = Path(__file__).parent.parent.parent
LIFT = read_text(
    Source("p.md", (ROOT / "procedures/lift/profile.md").read_text(encoding="utf-8"))
).document.profile
CABINET = read_text(
    Source("p.md", (ROOT / "procedures/warming-cabinet/profile.md").read_text(encoding="utf-8"))
).document.profile


def marked(text, profile=LIFT):
    """Each candidate's words and what the text becomes when its button is pressed."""
    source = Source("a.md", text)
    found = candidates(source, 0, profile)
    return [(c.words, apply({"a.md": text}, [c.fix]).texts["a.md"]) for c in found]


TABLE = [
    ("Unplug the dock.", "Unplug", "Unplug the dock: {isolates}`dock supply`."),
    ("Take the battery out and lock it.", "lock it", "Take the battery out and lock it: {isolates}`battery`."),
    ("Switch it off.", "Switch it off", "Switch it off: {isolates}`[fill in: which source]`."),
    ("Turn the dock supply on.", "Turn the dock supply on", "Turn the dock supply on: {restores}`dock supply`."),
    ("Turn the screw on the left.", None, None),
    ("Turn off the pump at the wall.", "Turn off", "Turn off the pump at the wall: {isolates}`dock supply`."),
    ("Discharge it.", "Discharge", "Discharge it: {releases}`[fill in: which source]`."),
    ("Prove the boom and the battery dead.", "Prove", "Prove the boom and the battery dead: {proves}`battery, boom`."),
    ("Take off the mast cover.", "Take off the mast cover", "Take off the mast cover: {removes}`mast cover`."),
    ("Refit the cover", "Refit the cover", "Refit the cover: {refits}`[fill in: which cover]`"),
    ("Reconnect the pack!", "Reconnect", "Reconnect the pack: {restores}`battery`!"),
    ("Wait 5 min.", "5 min", "Wait {wait}`5 min`."),
    ("Tighten to 22 Nm +/- 2 in turn.", "22 Nm +/- 2", "Tighten to {torque}`22 Nm +/- 2` in turn."),
    ("Measure less than 1.5 V.", "1.5 V", "Measure less than {read}`1.5 V`."),
    ("Set the gap to 0.5-0.7 mm.", "0.5-0.7 mm", "Set the gap to {set}`0.5-0.7 mm`."),
    ("Everybody stands clear. Stand clear.", "Stand clear", "Everybody stands clear. Stand clear: {all-clear}`people and tools`."),
    ("Type F2, 3 screws, page 12.", None, None),
    ("### Unplug the dock", None, None),
    (":origin: measured, wait 5 min", None, None),
    ("- Unplug it: [On](#on)", None, None),
    ("Unplug the dock: {isolates}`dock supply`.", None, None),
    (":::{warning}\nUnplug the dock.\n:::", None, None),
]  # fmt: skip


@pytest.mark.parametrize(("text", "words", "after"), TABLE)
def test_a_candidate_is_named_and_its_button_marks_it(text, words, after):
    found = marked(text)
    if words is None:
        assert found == []
    else:
        assert (words, after) in found


def test_a_sentence_with_a_mark_gets_the_next_one_in_brackets():
    found = marked("Wait {wait}`5 min` and unplug the dock.")
    assert found == [("unplug", "Wait {wait}`5 min` and unplug the dock ({isolates}`dock supply`).")]


def test_the_only_fitting_source_is_named_and_one_of_two_is_asked_for():
    assert marked("Pull the plug out and unplug it.", CABINET)[0][1].endswith("{isolates}`mains`.")
    assert "[fill in: which source]" in marked("Unplug the pack at the wall.", LIFT)[0][1]
    assert "[fill in: which source]" in marked("Unplug it.", None)[0][1]


PIECES = st.sampled_from(
    ["unplug", "lock it", "wait", "5 min", "22 Nm", "+/- 2", "±", "the cover", "remove", "battery", "`", "{", "}", "{wait}`5 s`",
     ".", "!", "\n", "### ", ":::", "- ", "](#", "measure", "0.3 Ω", "𝔸", "é", "  "]
)  # fmt: skip


@settings(max_examples=400, deadline=None)
@given(st.lists(PIECES | st.text(max_size=6), max_size=25).map(" ".join))
def test_pressing_a_button_only_adds_a_mark(text):
    text = text.replace("\r", " ")
    source = Source("a.md", text)
    for found in candidates(source, 0, LIFT):
        after = apply({"a.md": text}, [found.fix]).texts["a.md"]
        assert len(after) > len(text)
        left = iter(after)
        assert all(sign in left for sign in text), "every sign of the text is there still, in its order"
