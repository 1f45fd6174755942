"""What an answer says of the readings of its step, in plain words, and what it closes."""

from decimal import Decimal

import pytest

from kilter.compute import answerfit
from kilter.compute.reading import parse_reading
from kilter.publish.run.fits import fits_of


def reading(text, n=1):
    q = parse_reading(text).quantity
    plain = [format(d, "f") if isinstance(d, Decimal) else "" for d in (q.low, q.high)]
    row = {"id": f"s.r{n}", "low": plain[0], "high": plain[1]}
    return row | {"lowItself": q.form != "above", "highItself": q.form != "below"}, q


HEIGHT = [reading("as found, lever height: 8.0–8.3 mm")]
LEAD = [reading("pad to X4: ≤ 0.3 Ω"), reading("lead to frame: ≥ 2 MΩ", 2)]
VOLTS = [reading("J2 to J3: ≤ 1 V"), reading("plungers: ≤ 1 V", 2)]


@pytest.mark.parametrize(
    ("words", "readings", "inside", "limits"),
    [
        ("Inside 8.0 to 8.3 mm", HEIGHT, True, [["s.r1", "8", "8.3", True, True]]),
        ("Outside 8.0 to 8.3 mm", HEIGHT, False, [["s.r1", "8", "8.3", True, True]]),
        ("Inside the limits", HEIGHT, True, [["s.r1", "8.0", "8.3", True, True]]),
        ("Outside its limits", HEIGHT, False, [["s.r1", "8.0", "8.3", True, True]]),
        ("0.32 in or less", HEIGHT, True, [["s.r1", "", "8.128", True, True]]),
        ("Above 8.3 mm, so the bracket sits too high", HEIGHT, True, [["s.r1", "8.3", "", False, True]]),
        ("Both 1 V or less, boom firm", VOLTS, True, [["s.r1", "", "1", True, True], ["s.r2", "", "1", True, True]]),
        ("Either one outside", LEAD, False, [["s.r1", "", "0.3", True, True], ["s.r2", "2", "", True, True]]),
    ],
)  # fmt: skip
def test_words_that_prove_it(words, readings, inside, limits):
    assert fits_of(words, readings) == {"inside": inside, "limits": limits}


@pytest.mark.parametrize(
    ("words", "readings"),
    [
        ("Less than 8.0 mm, or the jacket is cut", HEIGHT),
        ("Outside, for the first or second time", HEIGHT),
        ("Outside 8.0 to 8.3 mm at either side", HEIGHT),
        ("It wanders, stays open or stays closed", HEIGHT),
        ("1 V or less", VOLTS),
        ("2 MΩ or more", LEAD),
        ("Volts shown, or the boom moves", VOLTS),
        ("32 N·m or more", HEIGHT),
        ("Inside the limits", []),
    ],
)
def test_words_that_do_not(words, readings):
    assert fits_of(words, readings) is None


SOUND = {"notZero": False, "notOk": False}
FOUND = [SOUND | {"fits": fits_of(w, HEIGHT)} for w in ("Outside 8.0 to 8.3 mm", "Inside 8.0 to 8.3 mm")]


def taken(value, verdict, phase="as found"):
    return {"s.r1": {"value": value, "verdict": verdict, "phase": phase}}


def test_a_finding_outside_closes_inside_and_the_other_way_round():
    assert answerfit.closed(FOUND, taken("8.6", "fail")) == [1]
    assert answerfit.closed(FOUND, taken("8.1", "pass")) == [0]
    assert answerfit.closed(FOUND, taken("8.3", "too close to call")) == []
    assert [answerfit.doubted(FOUND, n, taken("8.3", "too close to call")) for n in (0, 1)] == [
        "s.r1",
        "s.r1",
    ]
    assert [answerfit.doubted(FOUND, n, taken("8.6", "fail")) for n in (0, 1)] == ["", "s.r1"]


def test_a_failing_answer_is_never_closed_and_never_all_are():
    failing = [
        SOUND | {"fits": FOUND[1]["fits"]},
        {"notZero": False, "notOk": True, "fits": FOUND[0]["fits"]},
    ]
    assert answerfit.closed(failing, taken("8.1", "pass")) == []
    assert answerfit.doubted(failing, 1, taken("8.1", "pass")) == "s.r1"
    assert answerfit.closed([FOUND[1], FOUND[1]], taken("8.6", "fail")) == []


def test_what_does_not_speak_of_a_bad_finding_is_asked_about_once_more():
    silent = [SOUND | {"fits": None}, SOUND | {"fits": None}]
    assert answerfit.doubted(silent, 0, taken("8.6", "fail")) == "s.r1"
    assert answerfit.doubted(silent, 0, taken("8.1", "pass")) == ""
