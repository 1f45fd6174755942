"""Panels that are printed again after a page break: in two lines where nothing is lost, else whole."""

from __future__ import annotations

import pytest

from kilter.publish.cards.shortly import shortly

from .cards_frame import procedure, view


def panel(folder, word, body):
    text = procedure(
        f"## Do\n\n:::{{{word}}} mains\n{body}\n:::\n\n### Last\n:exit: left as found\n\nStop.\n"
    )
    (found,) = view(folder, text).document.stages[0].panels
    return found


@pytest.mark.parametrize(
    ("word", "body", "said"),
    [
        ("warning", "**Recoil.** The spring snaps. It can bruise a hand. Let it out first. Stand aside.",
         ("Recoil.", "Let it out first. Stand aside.")),
        ("danger", "**Shock.** The dock carries mains. It kills. Lock the plug.", ("", "")),
        ("warning", "**Shock.** Lock the plug. It kills otherwise.", ("", "")),
        ("warning", "**Shock.** It kills. Lock the plug until `END` is shown.", ("", "")),
        ("warning", "**Shock.** It kills.\n\nLock the plug.", ("", "")),
        ("caution", "**Wet floor.** Wipe up at once.", ("", "")),
        ("caution", "A wet floor. It can hurt a wrist. Wipe up at once.", ("", "")),
    ],
    ids=["three parts", "what can kill", "orders first", "a mark", "two paragraphs", "no consequence", "no hazard"],
)  # fmt: skip
def test_only_what_is_told_apart_for_sure_is_shortened(tmp_path, word, body, said):
    assert shortly(panel(tmp_path, word, body)) == said
