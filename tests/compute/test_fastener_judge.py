"""Facts about a torque: each kind appears where it is so and nowhere else, with its numbers."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.fastener import FastenerError
from kilter.compute.fastener_friction import parse_friction
from kilter.compute.fastener_judge import judge_torque
from kilter.compute.quantity import parse_quantity
from kilter.compute.torque_tool import tool

# M8 8.8: As 36.61 mm², 580 MPa, proof load 21.23 kN (ISO 898-1: 21.2); K·d = 1.6 mm at K 0.2.


def kinds(fastener, torque, friction=None, **more):
    known = {k: parse_quantity(v) if isinstance(v, str) else v for k, v in more.items()}
    found = judge_torque(
        fastener, parse_quantity(torque), parse_friction(friction) if friction else None, **known
    )
    return {f.kind: (f.sure, f.text) for f in found}


def test_a_sound_torque_has_no_facts():
    assert kinds("M8 8.8", "22 ± 2 N·m", "K 0.2", tool=tool(Fraction(40)), least_clamp="10 kN") == {}


def test_above_proof_even_at_the_highest_friction():
    """By hand: 42/0.0016 = 26.25 kN."""
    found = kinds("M8 8.8", "40 ± 2 N·m", "K 0.15 to 0.2")
    assert found == {
        "above-proof": (
            True,
            "M8 8.8 at 42 N·m: preload 26.2 kN > 21.2 kN proof load, even with K 0.15 to 0.2",
        )
    }


def test_above_proof_where_nobody_gave_friction_needs_the_highest_of_the_tables():
    assert set(kinds("M8 8.8", "50 ± 5 N·m")) == {"above-proof"}
    sure, text = kinds("M8 8.8", "45 ± 5 N·m")["may-exceed-proof"]
    assert not sure and "K 0.15 to 0.25" in text


def test_may_exceed_proof_is_sure_only_with_friction_given():
    """By hand: 30/0.0012 = 25.0 kN above, 30/0.0016 = 18.75 kN below."""
    sure, text = kinds("M8 8.8", "28 ± 2 N·m", "K 0.15 to 0.2")["may-exceed-proof"]
    assert sure and "preload up to 25.0 kN > 21.2 kN" in text
    assert kinds("M8 8.8", "28 ± 2 N·m")["may-exceed-proof"][0] is False


def test_without_a_class_the_strongest_is_the_judge():
    assert kinds("M5", "12 ± 1 N·m", "K 0.2") == {}
    sure, text = kinds("M5", "16 ± 1 N·m", "K 0.2")["above-proof"]
    assert sure and text.startswith("M5, were it 12.9 at 17 N·m")
    assert "were it Gr 8" in kinds("1/4-20", "300 ± 10 lbf·in", "K 0.2")["above-proof"][1]


def test_below_hold():
    """By hand: 20/0.0016 = 12.5 kN."""
    sure, text = kinds("M8 8.8", "22 ± 2 N·m", "K 0.2", least_clamp="13 kN")["below-hold"]
    assert sure and "12.5 kN < 13.0 kN wanted" in text
    assert kinds("M8 8.8", "22 ± 2 N·m", least_clamp="13 kN")["below-hold"][0] is False
    assert kinds("M8 8.8", "22 ± 2 N·m", "K 0.2", least_clamp="12.4 kN") == {}


def test_a_lock_nut_takes_from_the_preload():
    assert "below-hold" in kinds("M8 8.8", "22 ± 2 N·m", "K 0.2", least_clamp="12 kN", prevailing="≤ 4 N·m")
    assert "above-proof" in kinds("M8 8.8", "36 ± 1 N·m", "K 0.2")
    assert kinds("M8 8.8", "36 ± 1 N·m", "K 0.2", prevailing="4–6 N·m") == {}


def test_a_fact_is_sure_only_if_the_nut_takes_its_most():
    """By hand: (37 − 6)/0.0016 = 19.4 kN, (37 − 1)/0.0016 = 22.5 kN; proof load 21.2 kN."""
    assert kinds("M8 8.8", "36 ± 1 N·m", "K 0.2", prevailing="1–6 N·m").keys() == {"may-exceed-proof"}


def test_without_a_class_only_what_is_sure_is_said():
    """By hand: M5 12.9 bears 13.8 kN (ISO 898-1); 12/(5 mm · 0.15) = 16 kN, at K 0.25 9.6 kN."""
    assert kinds("M5", "11 ± 1 N·m", "K 0.15 to 0.25") == {}
    assert kinds("M5 12.9", "11 ± 1 N·m", "K 0.15 to 0.25").keys() == {"may-exceed-proof"}


def test_tools():
    text = kinds(None, "24 ± 0.5 N·m", tool=tool(Fraction(40)))["tolerance-tighter-than-tool"][1]
    assert text == "the tolerance is ±0.5 N·m, the tool is good to ±4.0 %, ±0.96 N·m"
    text = kinds(None, "5 ± 1 N·m", tool=tool(Fraction(40)))["tool-out-of-range"][1]
    assert text == "4 N·m to 6 N·m is asked for, the tool is good from 8 N·m to 40 N·m"
    assert kinds(None, "50 N·m", tool=tool(Fraction(40))).keys() == {"tool-out-of-range"}
    assert kinds(None, "50 ± 4 N·m", tool=tool(Fraction(40)), lever=1.5) == {}


def test_two_numbers_that_differ_are_shown_so():
    """Proof of an M8 8.8 is 21 232 N by hand: 36.609 mm² · 580 MPa − at 21.24 kN three digits would look the same."""
    text = kinds("M8 8.8", "33.985 N·m", "K 0.2")["above-proof"][1]
    left, right = text.split("preload ")[1].split(" kN > ")
    assert left != right.split(" ")[0]
    assert float(left) > float(right.split(" ")[0])


def test_a_fastener_that_cannot_be_read_and_an_impossible_k_are_errors():
    with pytest.raises(FastenerError):
        kinds("M9", "5 ± 1 N·m")
    with pytest.raises(ValueError, match="without any friction"):
        kinds("M2", "0.3 ± 0.1 N·m", "K 0.03")


@given(st.integers(1, 60), st.integers(0, 20), st.integers(8, 30), st.integers(0, 10))
def test_facts_against_the_short_form_by_hand(torque, by, k, more):
    """Judge: T/(K d) against the published proof load, 21.2 kN, a percent either way left out."""
    low, high = k / 100, (k + more) / 100
    text = f"{torque} ± {by / 100 + 0.01:.2f} N·m"
    most = (torque + by / 100 + 0.01) / (low * 8)
    least = (torque + by / 100 + 0.01) / (high * 8)
    found = kinds("M8 8.8", text, f"K {low} to {high}" if more else f"K {low}")
    if least > 21.2 * 1.01:
        assert "above-proof" in found
    elif least < 21.2 * 0.99 and most > 21.2 * 1.01:
        assert "may-exceed-proof" in found
    elif most < 21.2 * 0.99:
        assert found == {}
