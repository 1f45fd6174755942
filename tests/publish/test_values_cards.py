"""Calculations on cards: whole in their step, else right after it, never a reason to refuse the card, never lost."""

from __future__ import annotations

from pathlib import Path

import pytest

from kilter.publish.cards.make import main_card
from kilter.publish.view import DocumentView

from .cards_frame import check, pages_text, procedure, view

CALCULATION = """:::{calc} bleed
:capacitance: 470 µF ± 20 %
:resistance: 100 kΩ ± 5 %
:from: 400 V
:wait: 5 min
Words beside it.
:::
"""
PANEL = """:::{warning} mains, spring
**Shock and recoil.** The spring can fly out and break a hand, and what is live can kill whoever reaches in. Lock the plug
and unload the spring, and keep everybody else away from it as long as the cover is off.
:::

"""
LINES = ("wait at least 113 s", "the step's wait long enough", "time constant 59.2 s", "left after it 2.53 V")


def text_of(made: bytes) -> str:
    return " ".join(" ".join(pages_text(made)).split())


def made(folder: Path, text: str) -> tuple[DocumentView, bytes, str]:
    shown = view(folder, text)
    card = main_card(shown)
    return shown, card, text_of(card)


def step(instruction: str, calculation: str, panels: int = 0) -> str:
    return (
        "Words.\n\n## Work\n\n" + PANEL * panels + f"### Wait\n\n{instruction}\n\n{calculation}\n"
        "### End it\n:exit: left as found\n\nWrite it down.\n"
    )


@pytest.mark.parametrize("panels", [0, 1, 2, 3])
def test_a_calculation_stands_in_its_step_or_right_after_it(tmp_path: Path, panels: int) -> None:
    """However little room the panels leave, the words of the step and what was asked for are printed."""
    _, _, text = made(
        tmp_path, procedure(step("Wait {wait}`5 min`. " + "Look at the lamp. " * 20, CALCULATION, panels))
    )
    assert "How long a capacitor has to drain" in text and "Words beside it." in text
    assert LINES[0] in text and "Verdict: It holds." in text
    assert text.index("Look at the lamp.") < text.index("How long a capacitor") < text.index("End it")


def test_with_room_everything_stands_in_the_step(tmp_path: Path) -> None:
    _, _, text = made(tmp_path, procedure(step("Wait {wait}`5 min`.", CALCULATION)))
    assert all(line in text for line in LINES)
    assert "Worked out for step" not in text and "prove zero with a meter after the wait" in text


def test_without_room_the_calculation_follows_its_step(tmp_path: Path) -> None:
    _, card, text = made(
        tmp_path, procedure(step("Wait {wait}`5 min`. " + "Look at the lamp. " * 60, CALCULATION, 1))
    )
    assert "Worked out for step 1.1:" in text and all(line in text for line in LINES)
    assert card == main_card(view(tmp_path, procedure(
        step("Wait {wait}`5 min`. " + "Look at the lamp. " * 60, CALCULATION, 1))))  # fmt: skip


def test_calculations_of_a_stage_and_of_a_check_are_printed(tmp_path: Path) -> None:
    body = (
        f"Words.\n\n## Check\n\n{CALCULATION}\n### Lamp\nLook at the lamp.\n\n{CALCULATION}\n"
        "- It is lit: [Ready](#ready)\n- It is dark: [Out of use](#out-of-use)\n\n### Ready\n:exit: returned to service\n\n"
        "Use it.\n\n### Out of use\n:exit: left locked out, tagged\n\nHang the tag.\n"
    )
    _, _, text = made(tmp_path, check(body))
    assert text.count("How long a capacitor has to drain") == 2 and text.count(LINES[1]) == 2
    _, _, again = made(tmp_path, procedure(body))
    assert again.count("How long a capacitor has to drain") == 2


def test_many_calculations_in_one_step_do_not_refuse_the_card(tmp_path: Path) -> None:
    _, _, text = made(tmp_path, procedure(step("Wait {wait}`5 min`.", "\n".join([CALCULATION] * 6))))
    assert text.count("How long a capacitor has to drain") == 6
