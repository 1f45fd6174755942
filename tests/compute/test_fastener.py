"""Fasteners as people write them: what is read, and what is refused with its place."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.fastener import FastenerError, parse_fastener
from kilter.compute.fastener_friction import WORDS, parse_friction, parse_pair
from kilter.compute.fastener_tables import (
    COARSE,
    FINE,
    GRADES,
    STAINLESS,
    STEEL,
    UN,
    metric,
    strength,
    unified,
)

READ = {
    "M8 8.8": "M8 8.8", "m8 8.8": "M8 8.8", "M8-8.8": "M8 8.8", "M8, class 8.8": "M8 8.8", "M8x1.25 8.8": "M8 8.8",
    "M8 x 25 - 8.8": "M8 8.8", "M8 × 1.25 × 30 – 8.8": "M8 8.8", "M8x20 mm 12.9": "M8 12.9", "M10-1.5 8.8": "M10 8.8",
    "M6x1 A2-70": "M6 A2-70", "M6 a4 80": "M6 A4-80", "M5": "M5", "M10x1.25 10.9": "M10x1.25 10.9",
    "1/4-20 Gr 5": "1/4-20 Gr 5", "1/4\"-20 UNC grade 8": "1/4-20 Gr 8", "1/4 UNF": "1/4-28", "1-8 SAE 5": "1-8 Gr 5",
    "#10-32": "#10-32", "10-32 x 1/2": "#10-32", "No. 8-32 A2-70": "#8-32 A2-70", "3/4-16 UNF Gr.5": "3/4-16 Gr 5",
    "1/4-20 x 1-1/2 Gr 5": "1/4-20 Gr 5", "M2.5": "M2.5", "M12,8.8": "M12 8.8",
}  # fmt: skip


@pytest.mark.parametrize(("text", "meant"), READ.items())
def test_what_people_write_is_read(text, meant):
    assert str(parse_fastener(text)) == meant


REFUSED = {
    "M8 8.9": ("`8.9` is no strength class", "8.9", "8.8"),
    "M8 8,8": ("a comma in a number: `8,8`", "8,8", "8.8"),
    "M8 A2": ("`A2` says the steel, not the strength", "A2", ""),
    "M8 A2-75": ("`A2-75` is no strength class", "A2-75", "A2-70"),
    "M8 Gr 5": ("Gr 5 is a grade of inch screws, M8 is metric", "Gr 5", ""),
    "1/4-20 8.8": ("8.8 is a class of metric screws, 1/4-20 is inch", "8.8", ""),
    "1/4-20 UNF": ("1/4-20 is UNC", "UNF", "UNC"),
    "1/4-22": ("no thread 1/4-22", "22", ""),
    "M9 8.8": ("no thread M9", "M9", ""),
    "M8x1.1 8.8": ("no thread M8 with pitch 1.1", "1.1", ""),
    "M6 x 3": ("`3` is no pitch of M6, and short for a length", "3", ""),
    "M18 9.8": ("class 9.8 ends at M16", "9.8", ""),
    "  bolt 8.8": ("`bolt` names no thread", "bolt", ""),
    "1/4 Gr 5": ("`1/4` names no thread", "1/4", ""),
    "M8 strong": ("`strong` is no strength class", "strong", ""),
}


@pytest.mark.parametrize("text", REFUSED)
def test_what_names_no_fastener_is_refused_at_its_place(text):
    message, place, instead = REFUSED[text]
    with pytest.raises(FastenerError) as caught:
        parse_fastener(text)
    error = caught.value
    assert error.message == message
    assert text[error.start : error.end] == place
    assert error.instead == instead
    assert error.help


@given(st.text('M8x×.1234567890 -#/GrAUNCF,"½eE∞\n\t', max_size=30) | st.text(max_size=100))
def test_any_text_is_read_or_refused(text):
    """A refusal has help and lies within the text; what is read is read again by its own name."""
    found, refused = attempt(text)
    if refused is not None:
        assert refused.help
        assert 0 <= refused.start < refused.end <= max(1, len(text))
    else:
        assert str(parse_fastener(str(found))) == str(found)


def attempt(text):
    try:
        return parse_fastener(text), None
    except FastenerError as error:
        return None, error


def listed():
    for size, coarse in COARSE.items():
        yield from (metric(size, p) for p in (coarse, *FINE.get(size, ())))
    for size, (_, coarse, fine) in UN.items():
        yield from (unified(size, tpi) for tpi in (coarse, fine))


EVERY = list(listed())


@pytest.mark.parametrize("thread", EVERY, ids=lambda t: t.name)
def test_every_thread_is_read_by_its_own_name_with_every_class(thread):
    classes = (*STAINLESS, *(GRADES if thread.inch else STEEL))
    for name in classes:
        if name == "9.8" and thread.diameter > 0.016:
            continue
        found = parse_fastener(f"{thread.name} {name}")
        assert found.thread == thread and found.strength == strength(name, thread)
        assert found.strength.proof <= found.strength.strain < found.strength.tensile


@pytest.mark.parametrize("thread", EVERY, ids=lambda t: t.name)
def test_the_stress_area_lies_between_root_and_pitch_circle(thread):
    """Judge: circles of the minor diameter d − 1.2990 P (ISO 68-1, full profile) and of the pitch diameter."""
    root = (thread.diameter - 1.299 * thread.pitch) ** 2
    assert root < thread.stress_area * 4 / 3.141592653589793 < thread.pitch_diameter**2


def test_the_proof_stress_of_8_8_steps_up_above_m16():
    """ISO 898-1: 580 MPa up to 16 mm, 600 above."""
    assert [parse_fastener(f"{m} 8.8").strength.proof / 1e6 for m in ("M14", "M16", "M18")] == [580, 580, 600]


def test_friction_is_read():
    assert (parse_friction("K 0.15 to 0.25").low, parse_friction("0.15–0.25").high) == (0.15, 0.25)
    assert parse_friction("K 0.2 ± 0.05").text == "K 0.15 to 0.25"
    assert parse_friction("mu = 0.12").kind == "µ"
    assert parse_friction("Oiled") == parse_friction("lubricated")
    assert all(parse_friction(word).source for word in WORDS)
    pair = parse_pair("0.12", "µ 0.10 to 0.14")
    assert (pair.low, pair.high, pair.head_low, pair.head_high) == (0.12, 0.12, 0.10, 0.14)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("zink", "did you mean `zinc`"),
        ("K 0.3 to 0.2", "K 0.2 to 0.3"),
        ("K 20", "lies between"),
        ("K 0.1 ± 0.2", "lies between"),
        ("nan", "or one of"),
        ("K 1e400", "or one of"),
        ("0.2" * 60, "or one of"),
    ],
)
def test_friction_that_says_nothing_is_refused(text, said):
    with pytest.raises(FastenerError) as caught:
        parse_friction(text)
    assert said in caught.value.help


def test_friction_in_the_thread_is_a_mu():
    with pytest.raises(FastenerError, match="is a K"):
        parse_pair("0.12", "K 0.2")


def test_grade_2_is_weaker_above_three_quarters_of_an_inch():
    """SAE J429 (from memory): proof 55 ksi up to 3/4 in., 33 above."""
    ksi = 6.894757293168e6
    proof = [parse_fastener(t).strength.proof / ksi for t in ("3/4-10 Gr 2", "7/8-9 Gr 2", "7/8-9 Gr 5")]
    assert proof == pytest.approx([55, 33, 85])


def test_coarse_pitches():
    """ISO 261 (from memory), M2 to M24 in the first choice and M3.5, M14, M18, M22."""
    pitches = [0.4, 0.45, 0.5, 0.6, 0.7, 0.8, 1, 1, 1.25, 1.5, 1.75, 2, 2, 2.5, 2.5, 2.5, 3]
    assert [round(metric(size, pitch).pitch * 1e3, 4) for size, pitch in COARSE.items()] == pitches
