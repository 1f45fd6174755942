"""Words that say more than the marks: energy put on, guards taken off, work after the clearing."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.check.pages import report_of

STEP = "### Do it\n:hands: controls - the switch is outside the cover\n\n"


def said(rule: str, text: str, folder: Path) -> list[str]:
    return [d.message for d in report_of(text, folder).all() if d.rule == rule]


@pytest.mark.parametrize(
    "words",
    [
        "Switch the machine on.", "Then turn it on.", "Plug it in.", "Put the pack back in.", "Power up the unit.",
        "Reconnect the battery.", "Turn the main switch back on.", "Push the plug in.", "Hang the pack on.",
        "Take the side cover off.", "Lift off the side cover.", "Fit the side cover.", "If it is dark, switch it on.",
    ],
)  # fmt: skip
def test_what_changes_the_state_without_a_mark(words: str, tmp_path: Path) -> None:
    assert len(said("unmarked-action", f"{STEP}{words}\n", tmp_path)) == 1


@pytest.mark.parametrize(
    "words",
    [
        "Switch the tester on.", "Turn on the torch.", "Plug the test lead in.", "Turn it once.", "Connect the meter.",
        "Fit the plug in its case.", "Put the pack on the bench.", "Look at the side cover.", "Wipe the side cover.",
        "Undo the screws of the side cover.", "Push the gauge through the hole in the side cover.",
        "Switch the machine on: {runs-on}`battery`.", "The machine is on.", "Lift the side cover off: {removes}`side cover`.",
    ],
)  # fmt: skip
def test_what_is_no_such_thing_or_is_marked(words: str, tmp_path: Path) -> None:
    assert said("unmarked-action", f"{STEP}{words}\n", tmp_path) == []


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("Send everybody clear: {all-clear}`people and tools`. Tighten the last screw.", "`tighten`"),
        (
            "Send everybody clear: {all-clear}`people and tools`. Then put the {refits}`side cover` on.",
            "`{refits}`",
        ),
        (
            "Send everybody clear, {all-clear}`people and tools`, and put the {refits}`side cover` on.",
            "`{refits}`",
        ),
        ("Run it once: {tests}`full run`. Bend the tongue.", "`bend`"),
        ("Tighten the last screw. Send everybody clear: {all-clear}`people and tools`.", ""),
        ("Send everybody clear: {all-clear}`people and tools`. Look once more. Nobody stays.", ""),
        ("Run it once: {tests}`full run`. Watch its lamp: {tests}`lamp test`. Switch it off.", ""),
    ],
)
def test_work_after_clearing_and_testing(words: str, found: str, tmp_path: Path) -> None:
    messages = said("work-after-clear", f"### Do it\n\n{words}\n", tmp_path)
    assert len(messages) == bool(found)
    assert all(found in message for message in messages)
