"""Batteries, fuses and cables: against simulation, integration and the published tables."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, interpolate

from kilter.compute.battery import (
    REST,
    Use,
    ampere_hours_a_day,
    at_temperature,
    days_until_flat,
    lead_acid_charge,
    peukert_hours,
    recharge_hours,
    sag,
    table_charge,
)
from kilter.compute.cable import awg_area, broken_strands, resistance
from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.compute.fuse import SHAPES, least_rating, opens_after, pulse, pulse_share


def ask(calculation, **given):
    found = calculator(calculation)
    texts = {k.rstrip("_").replace("_", "-"): [v] if isinstance(v, str) else v for k, v in given.items()}
    return found.work(read_inputs(found.inputs, texts))


def line(result, name):
    return next(each for each in result.lines if each.name == name)


@given(st.floats(11.5, 13.0))
def test_rested_lead_acid_lies_between_the_two_tables(voltage):
    """scipy's linear interpolation of both tables, clipped to their ends."""
    ends = []
    for column in (1, 2):
        table = interpolate.interp1d([r[column] for r in REST], [r[0] for r in REST])
        if voltage <= 12.0 or voltage < REST[-1][column]:
            continue
        ends.append(100.0 if voltage >= REST[0][column] else float(table(voltage)))
    found = lead_acid_charge(voltage)
    for expected in ends:
        assert found.low - 1e-9 <= expected <= found.high + 1e-9
    assert 0 <= found.low <= found.high <= 100


@given(st.floats(11.5, 12.9), st.floats(0, 0.3))
def test_a_higher_voltage_is_never_a_lower_charge(voltage, more):
    assert lead_acid_charge(voltage + more).low >= lead_acid_charge(voltage).low - 1e-9


def test_a_makers_table_is_followed_and_a_wrong_one_refused():
    assert table_charge(27.0, [(29, 100), (25, 40)]).low == pytest.approx(70)
    assert (
        table_charge(20.0, [(29, 100), (25, 40)]).low,
        table_charge(20.0, [(29, 100), (25, 40)]).high,
    ) == (0, 40)
    with pytest.raises(ValueError, match="does not rise"):
        table_charge(27.0, [(29, 40), (25, 100)])
    with pytest.raises(ValueError, match="two different"):
        table_charge(27.0, [(29, 40)])


@given(st.floats(1, 200), st.floats(1, 50), st.floats(1, 1.6))
def test_the_rated_point_is_kept_whatever_the_exponent(capacity, hours, k):
    assert peukert_hours(capacity, hours, capacity / hours, k) == pytest.approx(hours)


@given(st.floats(1, 200), st.floats(0.1, 50), st.floats(1, 1.6), st.floats(1, 4))
def test_more_current_never_lasts_longer(capacity, current, k, more):
    assert peukert_hours(capacity, 20, current * more, k) <= peukert_hours(capacity, 20, current, k) * (
        1 + 1e-12
    )


def test_the_days_until_flat_are_those_of_a_simulation_by_the_hour():
    """A machine whose charger has stopped: counted down hour by hour until the battery is empty."""
    day = [Use("standby", 0.08, 22), Use("drives", 3.0, 1), Use("alarm", 0.4, 1)]
    left, hours = 12.0, 0
    profile = [use.current for use in day for _ in range(int(use.hours))]
    while left > 0:
        left -= profile[hours % 24]
        hours += 1
    expected = days_until_flat(12.0, ampere_hours_a_day(day))
    assert abs(hours / 24 - expected) < 1


def test_a_stopped_charger_in_use_is_flat_in_one_to_four_days():
    """A mains-fed machine whose charger has quietly stopped: common practice, no source."""
    result = ask(
        "battery",
        chemistry="lead-acid AGM",
        capacity="12 Ah",
        use=["standby: 0.08 A, 22 h", "drives: 3 A, 0.7 h"],
    )
    assert 1 <= line(result, "flat after").value <= 4


def test_cold_sag_and_charging():
    """Worked by hand."""
    assert at_temperature(100, 5, 0.8) == pytest.approx(84)
    assert at_temperature(100, 40, 0.8) == 100
    assert at_temperature(100, -200, 0.8) == 0
    assert sag(25.0, 10, 0.05) == pytest.approx(24.5)
    assert recharge_hours(10, 2, 0.8) == pytest.approx(6.25)


@pytest.mark.parametrize(
    ("shape", "current"),
    [
        ("rectangle", lambda t: 1.0 if t <= 1 else 0.0),
        ("half-sine", lambda t: math.sin(math.pi * t) if t <= 1 else 0.0),
        ("triangle", lambda t: 1 - t if t <= 1 else 0.0),
        ("decay", lambda t: math.exp(-t)),
    ],
)
def test_a_pulse_delivers_the_integral_of_its_square(shape, current):
    expected, _ = integrate.quad(lambda t: current(t) ** 2, 0, 30, points=[1], limit=500)
    assert pulse(20, 0.003, shape) == pytest.approx(20**2 * 0.003 * expected, rel=1e-6)
    assert set(SHAPES) == {"rectangle", "half-sine", "triangle", "decay"}


@given(st.floats(1, 1e5), st.floats(1, 1e5))
def test_more_pulses_never_allow_more(one, two):
    few, many = sorted((one, two))
    assert pulse_share(many) <= pulse_share(few)


def test_above_the_table_nothing_is_said():
    with pytest.raises(ValueError, match="nothing is published"):
        pulse_share(100_001)


def test_a_fuse_is_judged_by_load_and_inrush():
    """Worked by hand: 1.8 A / 0.75 = 2.4 A; ½ · 25² · 5 ms = 1.5625 A²s against 0.29 · 18 = 5.22 A²s."""
    assert least_rating(1.8) == pytest.approx(2.4)
    kept = ask(
        "fuse",
        rating="3.15 A",
        load="1.8 A",
        peak="25 A",
        duration="5 ms",
        shape="half-sine",
        melting="18 A²s",
        pulses="10000",
    )
    assert kept.verdict == "holds"
    assert line(kept, "inrush").value == pytest.approx(1.5625)
    assert line(kept, "allowed each time").value == pytest.approx(5.22)
    assert ask("fuse", rating="2 A", load="1.8 A").verdict == "fails"
    assert ask("fuse", rating="3.15 A", peak="60 A", duration="5 ms", melting="18 A²s").verdict == "fails"
    assert opens_after(18, 200) == pytest.approx(0.00045)
    assert "curve" in line(ask("fuse", rating="2 A", melting="18 A²s", fault="10 A"), "opens after").text


@given(st.integers(0, 37))
def test_three_gauges_halve_the_area(gauge):
    """Rule of the wire tables: three gauge numbers are a factor of two in area, within a percent."""
    assert awg_area(gauge) / awg_area(gauge + 3) == pytest.approx(2, rel=0.01)


@given(st.floats(1e-8, 1e-4), st.floats(0.1, 1000), st.floats(-40, 150))
def test_twice_the_length_has_twice_the_resistance(area, length, celsius):
    assert resistance(area, 2 * length, celsius) == pytest.approx(2 * resistance(area, length, celsius))
    assert resistance(area, length, celsius + 10) > resistance(area, length, celsius)


def test_a_cable_is_judged_by_what_is_lost():
    """Worked by hand: 2 · 3 m / 58 / 0.75 mm² = 0.1379 Ω; at 8 A 1.10 V, 4.6 % of 24 V."""
    result = ask(
        "cable", size="0.75 mm²", length="3 m", current="8 A", supply="24 V", limit="≤ 5 %", read="300 mΩ"
    )
    assert result.verdict == "holds"
    assert line(result, "resistance").value == pytest.approx(0.13793, abs=1e-5)
    assert "strands" in line(result, "as measured").text
    assert ask("cable", size="0.75 mm²", length="3 m", current="8 A", limit="≤ 1 V").verdict == "fails"
    assert broken_strands(3, 24) == 8


@pytest.mark.parametrize(
    ("calculation", "given", "said"),
    [
        ("battery", {}, "chemistry"),
        ("battery", {"chemistry": "lead"}, "no chemistry"),
        ("battery", {"chemistry": "lead-acid gel"}, "nothing to work with"),
        ("battery", {"chemistry": "lead-acid gel", "voltage": "12.6 V"}, "rest"),
        ("battery", {"chemistry": "lead-acid gel", "voltage": "12.6 V", "rested": "5 min"}, "rest"),
        ("battery", {"chemistry": "lithium-ion", "voltage": "12.6 V"}, "says nothing"),
        ("battery", {"chemistry": "lithium-ion", "voltage": "12.6 V", "table": ["12 V"]}, "no value"),
        ("battery", {"chemistry": "lead-acid gel", "capacity": "12 Ah", "current": "0 A"}, "above zero"),
        ("battery", {"chemistry": "lead-acid gel", "capacity": "12 Ah", "current": "2 A", "exponent": "3"}, "between 1 and 2"),
        ("battery", {"chemistry": "lead-acid gel", "capacity": "12 Ah", "use": ["a: 1 A, 20 h", "b: 1 A, 5 h"]}, "24 hours"),
        ("battery", {"chemistry": "lead-acid gel", "use": ["a: 1 A, 20 h"]}, "`capacity` is missing"),
        ("battery", {"chemistry": "lead-acid gel", "capacity": "12 Ah", "use": ["a: 1 A, 20 h"], "temperature": "5 °C"}, "slope"),
        ("battery", {"chemistry": "lead-acid gel", "capacity": "12 Ah", "charge_current": "2 A"}, "acceptance"),
        ("fuse", {"rating": "2 A"}, "nothing to judge"),
        ("fuse", {"rating": "2 A", "peak": "20 A"}, "duration"),
        ("fuse", {"rating": "2 A", "load": "1 A", "derating": "120"}, "warmth"),
        ("fuse", {"rating": "2 A", "peak": "20 A", "duration": "5 ms", "melting": "9 A²s", "pulses": "1000000"}, "published"),
        ("fuse", {"rating": "2 A", "fault": "20 A"}, "melting"),
        ("cable", {"size": "1.5 mm", "length": "3 m"}, "no size"),
        ("cable", {"size": "AWG 77", "length": "3 m"}, "gauges"),
        ("cable", {"size": "1.5 mm²", "length": "0 m"}, "above zero"),
        ("cable", {"size": "1.5 mm²", "length": "3 m", "limit": "≤ 5 %"}, "current"),
        ("cable", {"size": "1.5 mm²", "length": "3 m", "current": "3 A", "limit": "≤ 5 %"}, "supply"),
        ("cable", {"size": "1.5 mm²", "length": "3 m", "temperature": "900 °C"}, "temperature"),
    ],
)  # fmt: skip
def test_hostile_inputs_are_refused_in_words(calculation, given, said):
    with pytest.raises(InputError, match=said):
        ask(calculation, **given)
