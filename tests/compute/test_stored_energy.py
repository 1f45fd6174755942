"""Capacitors, springs, raised weights, cylinders: against integration by scipy and symbols by sympy."""

import math

import pytest
import sympy
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, optimize

from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.compute.hydraulics import creep, force, piston_area, pressure, weight
from kilter.compute.stored_energy import (
    bleed_time,
    capacitor_energy,
    raised_energy,
    spring_energy,
    voltage_after,
)

sizes = st.floats(1e-6, 1e-2)
ohms = st.floats(10, 1e6)
volts = st.floats(61, 2000)


def ask(calculation, **given):
    found = calculator(calculation)
    texts = {k.rstrip("_").replace("_", "-"): [v] for k, v in given.items()}
    return found.work(read_inputs(found.inputs, texts))


@given(sizes, ohms, volts)
def test_the_bleed_time_is_the_root_of_the_discharge(c, r, start):
    expected = optimize.brentq(lambda t: start * math.exp(-t / (r * c)) - 60, 0, 50 * r * c)
    assert bleed_time(c, r, start, 60) == pytest.approx(expected, rel=1e-6, abs=1e-12)
    assert voltage_after(c, r, start, bleed_time(c, r, start, 60)) == pytest.approx(60)


def test_the_discharge_solves_its_differential_equation():
    t, r, c, u0 = sympy.symbols("t r c u0", positive=True)
    u = sympy.Function("u")
    solved = sympy.dsolve(r * c * u(t).diff(t) + u(t), u(t), ics={u(0): u0}).rhs
    number = float(solved.subs({r: 1e4, c: 470e-6, u0: 400, t: 7}))
    assert voltage_after(470e-6, 1e4, 400, 7) == pytest.approx(number)


@given(sizes, volts)
def test_the_energy_of_a_capacitor_is_the_work_of_charging_it(c, u):
    expected, _ = integrate.quad(lambda q: q / c, 0, c * u)
    assert capacitor_energy(c, u) == pytest.approx(expected)


@given(st.floats(10, 1e5), st.floats(0, 0.5), st.floats(0, 500))
def test_the_energy_of_a_spring_is_force_over_travel(k, s, preload):
    expected, _ = integrate.quad(lambda x: preload + k * x, 0, s)
    assert spring_energy(k, s, preload) == pytest.approx(expected, abs=1e-9)


def test_a_weight_gives_back_force_times_height():
    assert raised_energy(250, 0.6) == pytest.approx(weight(250) * 0.6)


@given(sizes, ohms, volts, st.floats(1, 3))
def test_more_of_anything_waits_longer(c, r, start, more):
    assert bleed_time(c * more, r, start, 60) >= bleed_time(c, r, start, 60)
    assert bleed_time(c, r, start * more, 60) >= bleed_time(c, r, start, 60)


def test_the_wait_is_taken_from_the_worst_of_the_tolerances():
    """Worked by hand: 564 µF · 10.5 kΩ · ln(400/60) = 11.235 s, twice that with a factor of 2."""
    result = ask("bleed", capacitance="470 µF ± 20 %", resistance="10 kΩ ± 5 %", from_="400 V", factor="2")
    assert result.lines[0].value == pytest.approx(22.469, abs=0.002)
    assert result.lines[0].text == "23 s"


@pytest.mark.parametrize(
    ("wait", "verdict"), [("23 s", "holds"), ("22 s", "fails"), ("20–60 s", "fails"), ("5 min", "holds")]
)
def test_a_wait_counts_with_its_lower_end(wait, verdict):
    given = {"capacitance": "470 µF ± 20 %", "resistance": "10 kΩ ± 5 %", "from_": "400 V", "factor": "2"}
    assert ask("bleed", **given, wait=wait).verdict == verdict


@given(st.floats(0.005, 0.3), st.floats(0, 0.99), st.floats(1e5, 3e7))
def test_pressure_and_force_are_each_others_inverse(bore, share, p):
    area = piston_area(bore, bore * share)
    assert pressure(force(p, area), area) == pytest.approx(p)
    assert piston_area(bore, bore * share) <= piston_area(bore)


def test_creep():
    """Worked by hand: 2 mm in 10 min is 0.2 mm/min."""
    assert creep(0.002, 600) * 60_000 == pytest.approx(0.2)
    assert ask("hydraulic", bore="40 mm", sunk="2 mm", time="10 min", limit="≤ 0.2 mm/min").verdict == "holds"
    result = ask("hydraulic", bore="40 mm", sunk="2.1 mm", time="10 min", limit="≤ 0.2 mm/min")
    assert result.verdict == "fails"
    assert next(line for line in result.lines if line.name == "creep").text == "0.210 mm/min"


@pytest.mark.parametrize(
    ("calculation", "given", "said"),
    [
        ("bleed", {}, "capacitance"),
        ("bleed", {"capacitance": "470 µF", "resistance": "10 kΩ"}, "`from` is missing"),
        ("bleed", {"capacitance": "470", "resistance": "10 kΩ", "from_": "400 V"}, "no unit"),
        ("bleed", {"capacitance": "1e400 F", "resistance": "10 kΩ", "from_": "400 V"}, "power of ten"),
        ("bleed", {"capacitance": "0 µF", "resistance": "10 kΩ", "from_": "400 V"}, "above zero"),
        ("bleed", {"capacitance": "−4 µF", "resistance": "10 kΩ", "from_": "400 V"}, "below zero"),
        ("bleed", {"capacitance": "470 µF", "resistance": "10 MΩ", "from_": "400 V", "factor": "0.5"}, "below 1"),
        ("bleed", {"capacitance": "470 µF", "resistance": "≥ 10 kΩ", "from_": "400 V"}, "no upper end"),
        ("bleed", {"capacitance": "470 µF", "resistance": "10 kΩ", "from_": "400 V", "wait": "≤ 5 min"}, "no least time"),
        ("hydraulic", {"bore": "40 mm", "rod": "40 mm"}, "thinner"),
        ("hydraulic", {"bore": "40 mm", "mass": "5 kg", "force": "5 N"}, "together"),
        ("hydraulic", {"bore": "40 mm", "sunk": "2 mm"}, "`time` is missing"),
        ("hydraulic", {"bore": "40 mm", "limit": "≤ 1 mm/min"}, "`sunk` is missing"),
        ("hydraulic", {"bore": "40 mm", "height": "1 m"}, "`mass` is missing"),
        ("hydraulic", {"bore": "٤0 mm"}, "another script"),
    ],
)  # fmt: skip
def test_hostile_inputs_are_refused_in_words(calculation, given, said):
    with pytest.raises(InputError, match=said):
        ask(calculation, **given)
