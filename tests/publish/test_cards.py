"""What every card is: tagged, in our font, with its title block on each page, and the same each time."""

from __future__ import annotations

import io
import subprocess
from pathlib import Path

import pikepdf
import pytest
import zxingcpp
from PIL import Image

from kilter.publish.cards.make import main_card
from kilter.publish.view import STANDING, DocumentView

from .cards_frame import HASH, check, draw_picture, fonts, pages_text, poppler, procedure, structure, view

BODY = """The strut has play.

## Change it

:::{warning} mains, spring
**Shock and recoil.** The spring can fly out. It can break a hand. Lock the plug and unload the spring.
:::

### Make it safe
:do: make-safe

### Look at it

:::{figure} strut.png
:id: fig-strut
:alt: The strut from the left with its two pins.
:1: 80,70 Upper pin
:2: 330,230 Lower pin
The strut.
:::

Look at both pins ({item}`fig-strut 1, 2`). Measure the play: {read}`as found, play: ≤ 0.4 mm`.
- 0.4 mm or less: [Tighten it](#tighten-it)
- More: [Tag it](#tag-it) {not-ok}

### Tighten it
:origin: shop rule
:exit: returned to service

Tighten the nut to {torque}`22 ± 2 N·m` with the {tool}`torque wrench`.

### Tag it
:exit: left locked out, tagged

Hang your tag on the lift.
"""
LINES = """## Check

### Lamp
Look at the lamp.
- It is lit: [Brakes](#brakes)
- It is dark: [Out of use](#out-of-use)

### Brakes
Push it.
- It stays: [Ready](#ready)
- It rolls: [Out of use](#out-of-use)

### Ready
:exit: returned to service

Sign the sheet.

### Out of use
:exit: left locked out, tagged

Hang the tag.
"""


@pytest.fixture
def card(tmp_path: Path) -> tuple[DocumentView, bytes]:
    draw_picture(tmp_path / "strut.png")
    seen = view(tmp_path, procedure(BODY, more="date: 2026-10-02\n"))
    return seen, main_card(seen)


@pytest.fixture
def line_card(tmp_path: Path) -> tuple[DocumentView, bytes]:
    seen = view(tmp_path, check(LINES))
    return seen, main_card(seen)


@pytest.mark.parametrize("kind", ["card", "line_card"])
def test_is_tagged(kind: str, request: pytest.FixtureRequest) -> None:
    """Language, marks, PDF/UA identifier and bookmarks stand in the file; there is one main heading."""
    _, made = request.getfixturevalue(kind)
    pdf = pikepdf.open(io.BytesIO(made))
    assert pdf.Root.Lang == "en-GB"
    assert pdf.Root.MarkInfo.Marked
    assert b"pdfuaid" in bytes(pdf.Root.Metadata.read_bytes())
    assert "/Outlines" in pdf.Root
    kinds = [str(n.S) for n in structure(pdf)]
    assert kinds.count("/H1") == 1
    assert "/H2" in kinds
    assert "/H3" in kinds


def test_pictures_have_their_words(card: tuple[DocumentView, bytes]) -> None:
    """The author's description of a figure is in the file, and no figure is without one."""
    pdf = pikepdf.open(io.BytesIO(card[1]))
    figures = [n for n in structure(pdf) if n.S == "/Figure"]
    words = [str(n.get("/Alt", "")) for n in figures]
    assert "The strut from the left with its two pins." in words
    assert all(words)


@pytest.mark.parametrize("kind", ["card", "line_card"])
def test_only_our_font(kind: str, request: pytest.FixtureRequest) -> None:
    """No other font is taken from the machine or from typst."""
    names = fonts(pikepdf.open(io.BytesIO(request.getfixturevalue(kind)[1])))
    assert names
    assert all("AtkinsonHyperlegible" in name for name in names), names


@pytest.mark.parametrize("kind", ["card", "line_card"])
def test_each_page_says_what_it_is(kind: str, request: pytest.FixtureRequest) -> None:
    """A loose page still shows number, title, revision, hash, state, page and the standing caution."""
    seen, made = request.getfixturevalue(kind)
    pages = pages_text(made)
    assert pages
    for n, text in enumerate(pages, 1):
        flat = " ".join(text.split())
        for part in (seen.number, seen.front.title, HASH[:12], "DRAFT", STANDING, f"{n} of {len(pages)}"):
            assert part in flat, (n, part)
        assert "Uncontrolled when printed" in flat


@pytest.mark.parametrize("kind", ["card", "line_card"])
def test_same_bytes_each_time(kind: str, request: pytest.FixtureRequest) -> None:
    """A maker that has made it before, and a new one, give the same file."""
    seen, made = request.getfixturevalue(kind)
    assert [main_card(seen) for _ in range(2)] == [made] * 2


@pytest.mark.parametrize("kind", ["card", "line_card"])
def test_code_reads_from_grey_paper(kind: str, request: pytest.FixtureRequest, tmp_path: Path) -> None:
    """Printed grey at 150 dots an inch, each page's code gives address, revision and hash."""
    seen, made = request.getfixturevalue(kind)
    order = [poppler("pdftoppm"), "-gray", "-r", "150", "-png", "-", str(tmp_path / "page")]
    subprocess.run(order, input=made, check=True)
    pages = sorted(tmp_path.glob("page*.png"))
    assert len(pages) == len(pages_text(made))
    for page in pages:
        found = [code.text for code in zxingcpp.read_barcodes(Image.open(page))]
        assert found == [f"https://repair.example/{seen.address}?rev=B&hash={HASH[:12]}"]


def test_values_and_ways(card: tuple[DocumentView, bytes]) -> None:
    """Limits, boxes to write in, where an answer leads, and what a tagged exit asks for."""
    flat = " ".join(" ".join(pages_text(card[1])).split())
    wanted = (
        "Reading: play ≤ 0.4 mm (≤ 0.0157 in) as found",
        "Tighten to 22 ± 2 N·m (16.2 ± 1.4 lbf·ft)",
        "step 1.3",
        "step 1.4",
        "MUST BE:",
    )
    wanted += (
        "Do A Make safe (steps A.1 to A.1), then come back here and go on",
        "Fig. 1, items 1, 2",
        "Values from: shop rule",
    )
    wanted += (
        "END: Left locked out and tagged",
        "TREAT AS LIVE",
        "Workshop, telephone 2140",
        "May be off cover",
    )
    wanted += ("Go back to the step that sent you here",)
    for part in wanted:
        assert part in flat, part


def test_check_has_lines_to_tick(line_card: tuple[DocumentView, bytes]) -> None:
    """The first answer is the pass, which says where to go on only where that is not the next line; a fail always does."""
    flat = " ".join(" ".join(pages_text(line_card[1])).split())
    assert "PASS It is lit FAIL It is dark step 1.4: Out of use" in flat
    assert "PASS It stays step 1.3: Ready FAIL It rolls step 1.4: Out of use" in flat
    assert "Machine asset number" in flat and "Steps 1.3 and 1.4 stand after the lines." in flat
