"""An author's words on a card: as they stood, or refused at their place."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from kilter.check.printed import FIELDS
from kilter.compute.typeface import DRAWN, missing
from kilter.publish.cards.facts import strip_data
from kilter.publish.cards.make import main_card
from kilter.publish.cards.problems import CardProblems, find_problems
from kilter.publish.cards.steps import unit_of
from kilter.publish.view import SHOWN_FIELDS, Must

from .cards_frame import PROFILE, draw_picture, pages_text, procedure, view

HOSTILE = (
    r'#panic("x") $x$ *b* _i_ @ref <label> // [b] \ ` ~ -- ... = + - #let x = 1 /* c */ \u{41} https://a.b'
)
ALL = "".join(c for c in map(chr, range(0x20, 0x3000)) if not missing(c) and c not in DRAWN)
"""Every character that passes and is not drawn."""
END = "\n\n### Last\n:exit: left as found\n\nStop.\n"


def escaped(text: str) -> str:
    """Markdown that means just these characters."""
    return re.sub(r"([!-/:-@\[-`{-~])", r"\\\1", text)


def squeezed(text: str) -> str:
    return "".join(text.split())


def test_hostile_words_come_out_as_they_stood(tmp_path: Path) -> None:
    """Nothing of an author's is run or read as markup, wherever it stands."""
    draw_picture(tmp_path / "strut.png")
    safe = escaped(HOSTILE)
    body = (
        f"{safe}\n\n## {safe} 1\n\n:::{{warning}} mains\n**{safe} 2.** Bad. Do not.\n:::\n\n### {safe} 3\n\n"
        f":::{{figure}} strut.png\n:alt: {HOSTILE}\n:1: 80,70 {HOSTILE} 4\n{safe} 5\n:::\n\n"
        f"Take it. {safe} 6\n\n- {safe} 7\n- so\n\n> {safe} 8\n\n- {safe} 9: [a](#last)\n- b: [{safe}](#last)\n{END}"
    )
    text = squeezed(" ".join(pages_text(main_card(view(tmp_path, procedure(body))))))
    for n in range(1, 10):
        assert squeezed(f"{HOSTILE} {n}") in text, n


def test_a_word_wider_than_its_column_is_broken(tmp_path: Path) -> None:
    """A long name without blanks stays inside its column, and is whole when it is read out."""
    long = "Q" * 60
    seen = view(tmp_path, procedure(f"## Do\n\n### Step\n\nTake {{tool}}`{long}` and {long}.{END}"))
    text = squeezed(" ".join(pages_text(main_card(seen))))
    assert text.count(long) == 3


@pytest.mark.parametrize("sign", DRAWN)
def test_drawn_signs(sign: str, tmp_path: Path) -> None:
    """Signs that the font lacks and that are drawn are no fault, in headings too."""
    assert sign not in ALL
    seen = view(tmp_path, procedure(f"## Do {sign}\n\n### Step {sign}\n\nTurn it {sign} there.{END}"))
    assert main_card(seen).startswith(b"%PDF")


@pytest.mark.parametrize(
    ("body", "line", "column"),
    [
        ("## Do\n\n### Step\n\nTurn the ⌀ 3 bolt.", 16, 10),
        ("## Do\n\n### Step ⌀\n\nTurn it.", 14, 1),
        ("## Do\n\n### Step\n\nTighten to {torque}`⌀ 2 N·m`.", 16, 21),
    ],
)
def test_missing_sign_is_refused_at_its_place(body: str, line: int, column: int, tmp_path: Path) -> None:
    """The finding names the sign, its place and what to write instead; no card is made."""
    seen = view(tmp_path, procedure(body + END))
    (found,) = find_problems(seen)
    assert found.rule == "glyph-missing"
    assert "⌀ (U+2300 DIAMETER SIGN)" in found.message
    assert (found.span.line, found.span.column) == (line, column)
    assert "dia." in found.help
    with pytest.raises(CardProblems) as refused:
        main_card(seen)
    assert refused.value.findings == [found]


def test_every_field_that_is_shown_is_looked_at() -> None:
    assert set(SHOWN_FIELDS) <= set(FIELDS)


def test_missing_sign_in_the_profile(tmp_path: Path) -> None:
    """Words that come from the profile are named in the profile's file."""
    seen = view(
        tmp_path, procedure(f"## Do\n\n### Step\n\nTurn it.{END}"), PROFILE.replace("Plug out", "№ 3 out")
    )
    (found,) = find_problems(seen)
    assert found.span.path.endswith("profile.md")
    assert found.span.line == 6


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("guards: [cover]", "guards: [cover №]", 9),
        ("guards: [cover]", "guards: [cover]\nswitches:\n  foot №: {op: 9 mm}", 11),
        ("title: Test", "writers: [R№]\ntitle: Test", 4),
    ],
)
def test_missing_sign_in_what_only_a_machine_card_shows(
    old: str, new: str, line: int, tmp_path: Path
) -> None:
    """Guards, switches and writers stand on placard, table and title block."""
    text = procedure(f"## Do\n\n### Step\n\nTurn it.{END}")
    (found,) = find_problems(view(tmp_path, text, PROFILE.replace(old, new)))
    assert (found.rule, found.span.line) == ("glyph-missing", line)


def test_every_sign_that_passes_can_be_set(tmp_path: Path) -> None:
    """What the table says the font has, typst finds there: no card fails for a sign that passed."""
    signs = "".join(c for c in ALL if c.isprintable() and not c.isspace())
    assert len(signs) > 300
    rows = "\n\n".join(escaped(signs[n : n + 15]) for n in range(0, len(signs), 15))
    seen = view(tmp_path, procedure(f"## Do\n\n### Step\n\n{rows}{END}"))
    assert find_problems(seen) == []
    assert main_card(seen).startswith(b"%PDF")


def test_too_tall_step_says_where_and_how(tmp_path: Path) -> None:
    """The error stands at the step's heading with both heights and the cures that fit."""
    panel = ":::{warning} mains\n**Shock.** It kills. Lock the plug.\n:::\n\n"
    seen = view(tmp_path, procedure(f"## Do\n\n{panel}### Step\n\n{'Undo the next nut. ' * 300}{END}"))
    with pytest.raises(CardProblems) as refused:
        main_card(seen)
    (found,) = refused.value.findings
    assert (found.rule, found.span.line) == ("step-too-tall", 18)
    assert re.search(r"`Step` is \d{3} mm high on the procedure card, its page has 1\d\d mm", found.message)
    assert "split the step" in found.help
    assert "shorten the stage's panel" in found.help
    assert "figure" not in found.help


def test_strip_asks_for_no_live_source(tmp_path: Path) -> None:
    """What must be true stands apart from what may still be live, and sources of one state together."""
    step = view(tmp_path, procedure(f"## Do\n\n### Step\n\nTurn it.{END}")).stages[0].steps[0]
    states = (("mains", "live"), ("deck", "isolated"), ("boom", "proved zero"), ("battery", "isolated"))
    strip = strip_data(replace(step, strip=tuple(Must(*s) for s in states)))
    assert [(m["label"], m["names"], m["state"]) for m in strip] == [
        ("MUST BE", ["DECK", "BATTERY"], "isolated"),
        ("", ["BOOM"], "proved zero"),
        ("TREAT AS LIVE", ["MAINS"], ""),
    ]


@pytest.mark.parametrize(
    ("value", "unit"),
    [
        ("27.3 ± 0.3 V", "V"),
        ("≤ 0.4 mm", "mm"),
        ("22 ± 2 N·m", "N·m"),
        ("8.0–8.3 mm", "mm"),
        ("no number", ""),
    ],
)
def test_unit(value: str, unit: str) -> None:
    """The box to write in shows the unit of its limit."""
    assert unit_of(value) == unit
