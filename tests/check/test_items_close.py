"""Items too close for an eye on a telephone or a card, and the detail that is offered for them."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest
from tests.check.pages import report_of

from kilter.compute.pictureclose import CARD_SHEET
from kilter.diagnostic import Diagnostic
from kilter.publish.cards.template import FOLDER

PAIR = ":::{{figure}} picture.png\n:alt: The rig.\n:1: 400,300 Nut\n:{number}: {x},300 Washer\n{more}:::\n"
"""The picture has 800 x 600 pixels: on a telephone 272 of 360, beside numbers of two digits 253."""
CLOSE, AREA = "items-close", "picture-area"


def _asked(folder: Path, text: str, rule: str = CLOSE) -> list[Diagnostic]:
    return [d for d in report_of(text, folder).all() if d.rule == rule]


@pytest.fixture
def found(tmp_path):
    """Messages of a rule about a text."""
    return lambda text, rule=CLOSE: [d.message for d in _asked(tmp_path, text, rule)]


@pytest.mark.parametrize(
    ("number", "apart", "told"),
    [
        (2, 36, []),
        (2, 35, ["items 1 and 2 stand 11 px apart on a phone, the least is 12"]),
        (10, 38, []),
        (10, 37, ["items 1 and 10 stand 11 px apart on a phone, the least is 12"]),
    ],
)
def test_twelve_pixels_of_the_picture_as_a_phone_of_360_shows_it(found, number, apart, told):
    """36 of 800 pixels are 12.2 of 272; 35 are 11.9. With two digits 38 are 12.0 and 37 are 11.7 of 253."""
    assert found(PAIR.format(number=number, x=400 + apart, more="")) == told


def test_a_narrow_part_of_a_picture_is_small_on_a_card(found):
    """Cropped to 200 x 600 it is 12.7 mm wide on a card that leaves 38 mm of height: 20 pixels are 1.3 mm."""
    text = PAIR.format(number=2, x=420, more=":crop: 300,0,200,600\n")
    assert found(text) == ["items 1 and 2 stand 1.2 mm apart on a card, the least is 1.6"]
    assert found(PAIR.format(number=2, x=430, more=":crop: 300,0,200,600\n")) == []


def test_the_detail_that_is_offered_mends_it(found, tmp_path):
    """For every pair for which there is room: written in, the finding is gone and the area is sound."""
    draw, offered = random.Random(611), 0
    for _ in range(25):
        x, y = draw.randrange(20, 780), draw.randrange(20, 580)
        to = min(max(x + draw.randrange(-14, 15), 0), 799), min(max(y + draw.randrange(4, 15), 0), 599)
        rows = [
            f":1: {x},{y} Nut",
            f":2: {to[0]},{to[1]} Washer",
            f":3: {draw.randrange(800)},{draw.randrange(600)} Pin",
        ]
        text = ":::{figure} picture.png\n:alt: The rig.\n{more}" + "\n".join(rows) + "\n:::\n"
        helps = [d.help or "" for d in _asked(tmp_path, text.replace("{more}", ""))]
        line = re.search(r"`(:detail: [0-9][^`]*)`", helps[0])
        if line is None:
            continue
        offered += 1
        mended = text.replace("{more}", line[1] + "\n")
        assert found(mended, AREA) == [], mended
        assert not any("items 1 and 2" in message for message in found(mended)), mended
    assert offered > 15


def test_a_drawing_is_not_told_to_be_cropped(tmp_path):
    """An SVG can't be cropped or enlarged here."""
    text = PAIR.format(number=2, x=410, more="").replace("picture.png", "plain.svg")
    (close,) = _asked(tmp_path, text)
    assert "detail" not in (close.help or "") and "draw the part again, larger" in (close.help or "")


def test_the_card_measured_is_the_card_printed():
    """Its widest sheet stands beside the hanging step number; its lowest is the last height a figure is tried at."""
    steps, frame, parts = (
        (FOLDER / f"{name}.typ").read_text("utf-8") for name in ("steps", "frame", "parts")
    )
    hang = float(re.search(r"#let hang = (\d+)mm", steps)[1])
    edge = float(re.search(r"#let edge = (\d+)mm", frame)[1])
    frame_line = float(re.search(r"#let figure-block.*\n  let edge = (\d+)mm", parts)[1])
    lowest = float(re.search(r"#let heights = \(.*?(\d+)mm\)", steps)[1])
    assert (148 - 2 * edge - hang - frame_line, lowest - frame_line) == CARD_SHEET
