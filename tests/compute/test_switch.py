"""Switch settings: the window against every switch of its type, one by one."""

import random
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.compute.quantity import parse_quantity
from kilter.compute.switch import (
    FiguresMissingError,
    figures,
    fit,
    recheck_after,
    released_from,
    turns,
    window,
)

SETTING = calculator("setting")


def ask(**given):
    texts = {k.replace("_", "-").strip("-"): [v] if isinstance(v, str) else v for k, v in given.items()}
    return SETTING.work(read_inputs(SETTING.inputs, texts))


def line(result, name):
    return next(line for line in result.lines if line.name == name)


def read(**given):
    return figures({k: parse_quantity(v) for k, v in given.items()})


hundredths = st.integers(1, 300).map(lambda n: Fraction(n, 100))


@given(st.integers(500, 1500), st.integers(0, 50), hundredths, st.integers(0, 2**32))
def test_a_setting_is_in_the_window_exactly_if_it_suits_every_switch(op, tolerance, ot, seed):
    """Judge: switches of the type with OP at its ends and in between, each used half to all of its overtravel."""
    nominal, by = Fraction(op, 100), Fraction(tolerance, 100)
    text = f"{float(nominal):.2f} ± {float(by):.2f} mm" if tolerance else f"{float(nominal):.2f} mm"
    allowed = window(read(op=text, ot=f"{float(ot):.2f} mm"))
    draw = random.Random(seed)
    ops = [
        nominal - by,
        nominal + by,
        *(nominal + by * Fraction(draw.randint(-100, 100), 100) for _ in range(20)),
    ]
    for _ in range(30):
        at = nominal - ot * Fraction(draw.randint(-20, 150), 100)
        suits = all(own - ot <= at <= own - ot / 2 for own in ops)
        assert suits == (allowed.low <= at / 1000 <= allowed.high)


def test_the_share_to_be_used_narrows_the_window():
    """70 to 100 % of the overtravel for a normally-open contact: precaution in makers' catalogues."""
    allowed = window(read(op="8.8 mm", ot="1.0 mm", use="70–100 %"))
    assert (allowed.low * 1000, allowed.high * 1000) == (Fraction("7.8"), Fraction("8.1"))


def test_from_the_click_the_tolerance_of_the_operating_point_does_not_matter():
    allowed = window(read(op="8.8 ± 0.8 mm", ot="1.2 mm"), from_click=True)
    assert (allowed.low * 1000, allowed.high * 1000) == (Fraction("0.6"), Fraction("1.2"))
    assert window(read(op="8.8 ± 0.8 mm", ot="1.2 mm")).empty


@pytest.mark.parametrize(
    ("setting", "how"),
    [("7.9 ± 0.05 mm", "fits"), ("7.9 ± 0.2 mm", "too wide"), ("8.1 ± 0.05 mm", "outside"), ("7.8–8.0 mm", "fits"),
     ("≤ 8.0 mm", "too wide"), ("0.311 ± 0.001 in", "fits")],
)  # fmt: skip
def test_how_a_setting_lies(setting, how):
    allowed = window(read(op="8.8 ± 0.2 mm", ot="1.2 mm"))
    assert fit(allowed, parse_quantity(setting)) == how


def test_overtravel_and_differential_follow_from_positions():
    """OT = OP − TTP, MD = RP − OP (terms of DIN 41636), at their worst over the tolerances."""
    switch = read(op="8.8 ± 0.2 mm", ttp="7.4 ± 0.1 mm", rp="9.4 ± 0.2 mm")
    assert switch.ot * 1000 == Fraction("1.1")
    assert switch.md * 1000 == Fraction("1.0")
    assert released_from(switch) * 1000 == Fraction("10.0")


def test_what_is_missing_is_named():
    with pytest.raises(FiguresMissingError, match="overtravel"):
        window(read(op="8.8 mm"))
    with pytest.raises(InputError, match="operating point"):
        ask(ot="1.2 mm")
    with pytest.raises(FiguresMissingError, match="movement differential"):
        released_from(read(op="8.8 mm"))


def test_turns_and_drift():
    """Worked by hand: 0.4 mm over 0.7 mm a turn with half the travel coming through is 1.142… turns."""
    assert turns(Fraction("-0.4"), Fraction("0.7"), Fraction("0.5")) == Fraction(-8, 7)
    assert recheck_after(Fraction("0.1"), Fraction("0.4") / 180) == Fraction("22.5")
    assert recheck_after(Fraction("0.1"), Fraction(0)) is None


def test_the_calculator_says_what_it_takes_for_granted():
    bare = ask(op="8.8 ± 0.2 mm", ot="1.2 mm", set="7.9 ± 0.05 mm")
    assert bare.verdict == "holds"
    assert any("bracket" in a for a in bare.assumptions)
    assert any("go and no-go" in c for c in bare.cautions)
    more = ask(op="8.8 ± 0.2 mm", ot="1.2 mm", set="7.9 ± 0.05 mm", part=["bracket: ±0.1 mm"])
    assert more.verdict == "fails"
    assert not any("bracket" in a for a in more.assumptions)


def test_an_actuator_that_stays_too_near_is_told():
    near = ask(op="8.8 ± 0.2 mm", ot="1.2 mm", md="0.8 mm", away="9.5 mm")
    far = ask(op="8.8 ± 0.2 mm", ot="1.2 mm", md="0.8 mm", away="9.9 mm")
    assert any("does not go far enough" in c for c in near.cautions)
    assert not any("does not go far enough" in c for c in far.cautions)


def test_the_chance_of_lying_inside_is_shown():
    result = ask(op="8.8 ± 0.2 mm", ot="1.2 mm", set="7.9 ± 0.1 mm")
    assert line(result, "chance of lying inside").value == pytest.approx(99.73, abs=0.005)


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"op": "nan mm"}, "no number"),
        ({"op": "8,8 mm", "ot": "1.2 mm"}, "comma"),
        ({"op": "8.8 ± -0.2 mm"}, "below zero"),
        ({"op": "8.8 N", "ot": "1.2 mm"}, "force"),
        ({"op": "8.8 mm", "ot": "30 °"}, "lengths and angles"),
        ({"op": "8.8 mm", "ot": "1.2 mm", "part": ["bracket"]}, "no part"),
        ({"op": "8.8 mm", "ot": "1.2 mm", "part": ["bracket: ±0 mm"]}, "tolerance"),
        ({"op": "8.8 mm", "ot": "1.2 mm", "ratio": "1e400"}, "plain number"),
        ({"op": "8.8 mm", "ot": "1.2 mm", "days": "0"}, "count"),
        ({"op": "8.8 mm", "ot": "1.2 mm", "turns": "3"}, "not asked for"),
        ({"op": ["8.8 mm", "8.9 mm"], "ot": "1.2 mm"}, "twice"),
        ({"op": "8.8 mm", "ot": "1.2 mm", "set": "8 mm", "found": "8.3 mm", "pitch": "0.7 mm", "ratio": "0"}, "above zero"),
    ],
)  # fmt: skip
def test_hostile_inputs_are_refused_in_words(given, said):
    with pytest.raises(InputError, match=said):
        ask(**given)
