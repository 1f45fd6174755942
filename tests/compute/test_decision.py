"""Verdicts on readings: against the definition, scipy and published examples."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.compute.decision import chance_of_conformity, days_until, guarded, judge, of_meter, trend

READING = calculator("reading")
small = st.fractions(min_value=-50, max_value=50, max_denominator=20)
sizes = st.fractions(min_value=0, max_value=10, max_denominator=20)


def ask(**given):
    return READING.work(
        read_inputs(READING.inputs, {k: [v] if isinstance(v, str) else v for k, v in given.items()})
    )


@given(small, sizes, st.none() | small, st.none() | small)
def test_the_verdict_is_what_the_words_say(reading, by, low, high):
    said = judge(reading, by, low, high)
    outside = (low is not None and reading < low) or (high is not None and reading > high)
    spread = [reading - by, reading, reading + by]
    out_by_chance = any((low is not None and r < low) or (high is not None and r > high) for r in spread)
    if low is None and high is None:
        assert said == "not judged"
    elif outside:
        assert said == "fail"
    else:
        assert said == ("too close to call" if out_by_chance else "pass")


@given(small, sizes, st.none() | small, st.none() | small)
def test_a_pass_is_a_reading_inside_the_guarded_limits(reading, by, low, high):
    first, last = guarded(by, low, high)
    inside = (first is None or reading >= first) and (last is None or reading <= last)
    if (low, high) != (None, None):
        assert (judge(reading, by, low, high) == "pass") == inside


def test_a_limit_that_is_not_itself_allowed():
    one = Fraction(1)
    assert judge(one, None, None, one) == "pass"
    assert judge(one, None, None, one, high_itself=False) == "fail"
    assert judge(one, None, one, None, low_itself=False) == "fail"
    assert judge(one - Fraction(1, 10), Fraction(1, 10), None, one, high_itself=False) == "too close to call"


@given(st.floats(-5, 5), st.floats(0.01, 3), st.floats(-4, 0), st.floats(0, 4))
def test_the_chance_of_conformity_is_scipys(reading, u, low, high):
    expected = stats.norm(reading, u).cdf(high) - stats.norm(reading, u).cdf(low)
    assert chance_of_conformity(reading, u, low, high) == pytest.approx(expected, abs=1e-9)


@given(st.floats(-5, 5), sizes.map(float), st.floats(0, 4))
def test_a_reading_nearer_the_limit_conforms_less(reading, by, high):
    assert (
        chance_of_conformity(reading, 1.0, None, high)
        >= chance_of_conformity(reading + by, 1.0, None, high) - 1e-12
    )


def test_a_meters_accuracy():
    """0.5 % + 2 digits of 0.001 at 0.270: 0.00135 + 0.002, worked by hand."""
    assert of_meter(Fraction("0.27"), Fraction("0.5"), Fraction(2), Fraction("0.001")) == Fraction("0.00335")


def test_the_trend_is_scipys_regression():
    draw = np.random.default_rng(3)
    days = draw.integers(0, 900, 12).astype(float)
    values = 0.2 + 0.0003 * days + draw.normal(0, 0.01, 12)
    found, expected = trend(list(zip(days, values, strict=True))), stats.linregress(days, values)
    assert found.slope == pytest.approx(expected.slope)
    assert found.slope_error == pytest.approx(expected.stderr)
    assert found.level == pytest.approx(expected.intercept + expected.slope * days.max())


def test_two_readings_have_a_line_but_no_error():
    found = trend([(-100.0, 0.2), (0.0, 0.25)])
    assert found.slope_error is None
    assert days_until(found, None, 0.3) == pytest.approx(100)
    assert days_until(found, 0.1, None) is None
    assert days_until(found, None, 0.24) == 0
    with pytest.raises(ValueError, match="two days"):
        trend([(1.0, 2.0), (1.0, 3.0)])


def test_temperatures_take_an_uncertainty_as_a_difference():
    assert ask(limit="≤ 43 °C", read="41.9 °C", uncertainty="1 °C").verdict == "holds"
    assert ask(limit="≤ 43 °C", read="42.5 °C", uncertainty="1 °C").verdict == "too close to call"
    assert ask(limit="≤ 43 °C", read="107.8 °F", uncertainty="1.8 °F").verdict == "too close to call"
    assert ask(limit="≤ 43 °C", read="107.5 °F", uncertainty="1 °F").verdict == "holds"


def test_a_tool_too_coarse_is_said_to_be_so():
    result = ask(limit="24.0–24.2 V", uncertainty="0.2 V")
    assert "too coarse" in result.lines[0].text


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({}, "limit"),
        ({"limit": "0.3 Ω"}, "no limit"),
        ({"limit": "≤ 0.3 Ω"}, "missing"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 V"}, "voltage"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 ± 0.1 Ω"}, "no single value"),
        ({"limit": "≤ 0.3 Ω", "read": "~0.2 Ω"}, "no limit"),
        ({"limit": "≤ 0.3 Ω", "read": "inf Ω"}, "no number"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 Ω", "percent": "-1"}, "below zero"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 Ω", "digits": "2"}, "resolution"),
        ({"limit": "≤ 0.3 Ω", "percent": "1"}, "missing"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 Ω", "coverage": "0"}, "above zero"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 Ω", "earlier": ["yesterday"]}, "no earlier reading"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 Ω", "earlier": ["0.2 V, 3 days ago"]}, "voltage"),
        ({"limit": "≤ 0.3 Ω", "read": "0.2 Ω", "earlier": ["0.2 Ω, 0 days ago"]}, "two days"),
    ],
)
def test_hostile_inputs_are_refused_in_words(given, said):
    with pytest.raises(InputError, match=said):
        ask(**given)
