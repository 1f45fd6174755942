"""Every unit against pint's own exact arithmetic, and what is shown against the true interval, for every pair of units."""

from fractions import Fraction

import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import constants

from kilter.compute.display import MOST_DECIMALS, TooSmallError, in_other_system, in_unit
from kilter.compute.quantity import parse_quantity
from kilter.compute.units import BASE, UNITS
from kilter.compute.value import alike

UREG = pint.UnitRegistry(non_int_type=Fraction, autoconvert_offset_to_baseunit=True)
UREG.define("conventional_mercury = 13595.1 * kilogram / meter**3 * standard_gravity = Hg_c")
UREG.define("conventional_water = 1000 * kilogram / meter**3 * standard_gravity = H2O_c")
PINT = {
    "N·m": "newton*m", "N·cm": "newton*cm", "cN·m": "centinewton*m", "mN·m": "millinewton*m",
    "N·mm": "newton*mm", "lbf·in": "force_pound*inch", "lbf·ft": "force_pound*foot",
    "ozf·in": "force_ounce*inch", "kgf·cm": "kilogram_force*cm", "kgf·m": "kilogram_force*m",
    "m": "m", "mm": "mm", "cm": "cm", "µm": "micrometer", "in": "inch", "ft": "foot",
    "Pa": "pascal", "kPa": "kilopascal", "MPa": "megapascal", "hPa": "hectopascal", "bar": "bar",
    "mbar": "millibar", "psi": "force_pound/inch**2", "Torr": "torr", "mmHg": "mm*Hg_c",
    "inHg": "inch*Hg_c", "cmH2O": "cm*H2O_c", "inH2O": "inch*H2O_c", "kgf/cm²": "kilogram_force/cm**2",
    "L/min": "liter/minute", "mL/min": "milliliter/minute", "L/s": "liter/s", "mL/h": "milliliter/hour",
    "W": "watt", "mW": "milliwatt", "kW": "kilowatt",
    "N": "newton", "mN": "millinewton", "kN": "kilonewton", "lbf": "force_pound", "kgf": "kilogram_force",
    "ozf": "force_ounce", "V": "volt", "mV": "millivolt", "µV": "microvolt", "kV": "kilovolt",
    "V d.c.": "volt", "V a.c.": "volt", "kV d.c.": "kilovolt", "kV a.c.": "kilovolt",
    "Ω": "ohm", "mΩ": "milliohm", "kΩ": "kiloohm", "MΩ": "megaohm", "GΩ": "gigaohm",
    "A": "ampere", "mA": "milliampere", "µA": "microampere", "Ah": "ampere*hour", "mAh": "milliampere*hour",
    "µC": "microcoulomb", "mF": "millifarad", "µF": "microfarad", "nF": "nanofarad",
    "s": "second", "ms": "millisecond", "min": "minute", "h": "hour", "d": "day",
    "kg": "kilogram", "g": "gram", "mg": "milligram", "lb": "pound", "%": "percent",
    "°": "degree", "turns": "turn", "m/s": "m/s", "mm/s": "mm/s", "mm/min": "mm/minute", "m/min": "m/minute",
    "Hz": "hertz", "kHz": "kilohertz", "rpm": "1/minute", "L": "liter", "mL": "milliliter",
    "J": "joule", "kJ": "kilojoule", "mJ": "millijoule", "Wh": "watt*hour", "kWh": "kilowatt*hour",
    "N/mm": "newton/mm", "lbf/in": "force_pound/inch", "cm²": "cm**2", "mm²": "mm**2", "in²": "inch**2",
    "A²s": "ampere**2*s", "K": "kelvin", "°C": "degC", "°F": "degF",
}  # fmt: skip
BASES = {
    "torque": "newton*m", "length": "m", "pressure": "pascal", "flow": "m**3/s", "power": "watt",
    "force": "newton", "temperature": "kelvin", "voltage": "volt", "resistance": "ohm", "current": "ampere",
    "charge": "coulomb", "time": "s", "mass": "kilogram", "ratio": "", "angle": "degree", "speed": "m/s",
    "frequency": "hertz", "rotation": "1/s", "volume": "m**3", "energy": "joule", "capacitance": "farad",
    "stiffness": "newton/m", "area": "m**2", "fusing": "ampere**2*s",
}  # fmt: skip
ROUND = {"turns"}
"""Where pint goes by way of π, which it holds as a rounded number."""


def base(value, symbol):
    """A value in the base unit by pint."""
    return UREG.Quantity(Fraction(value), PINT[symbol]).to(BASES[UNITS[symbol].dimension]).magnitude


def test_every_unit_and_dimension_has_a_second_path():
    assert set(PINT) == set(UNITS)
    assert set(BASES) == set(BASE)


@pytest.mark.parametrize("symbol", [s for s in UNITS if s not in ROUND])
@pytest.mark.parametrize("value", ["0", "1", "-7.25", "123456.789"])
def test_pint_converts_exactly_the_same(symbol, value):
    assert UNITS[symbol].to_base(Fraction(value)) == base(value, symbol)


def test_a_turn_by_way_of_pi():
    assert abs(base("1", "turns") - UNITS["turns"].factor) < Fraction(1, 10**9)


@pytest.mark.parametrize(
    ("symbol", "factor"),
    [
        ("psi", constants.psi),
        ("lbf", constants.pound_force),
        ("kgf", constants.kgf),
        ("in", constants.inch),
        ("ft", constants.foot),
        ("lb", constants.lb),
        ("Torr", constants.torr),
        ("bar", constants.bar),
        ("min", constants.minute),
        ("h", constants.hour),
        ("d", constants.day),
        ("L", constants.liter),
        ("Wh", constants.hour),
        ("lbf·in", constants.pound_force * constants.inch),
        ("lbf·ft", constants.pound_force * constants.foot),
        ("ozf", constants.oz * constants.g),
        ("kgf/cm²", constants.kgf / constants.centi**2),
        ("in²", constants.inch**2),
    ],
)
def test_scipy_has_the_same_factor(symbol, factor):
    assert float(UNITS[symbol].factor) == pytest.approx(factor, rel=1e-14)


def test_a_torr_is_no_conventional_millimetre_of_mercury():
    """They differ by 0.14 in a million: 101 325 / 760 against 13 595.1 · 9.806 65 / 1000 (NIST SP 811, footnote 12)."""
    assert 0 < UNITS["mmHg"].factor / UNITS["Torr"].factor - 1 < Fraction(2, 10**7)


PAIRS = [(a, b) for a in UNITS.values() for b in UNITS.values() if a.dimension == b.dimension and a is not b]
sizes = st.decimals(min_value="0.1", max_value="9999", places=1)
parts = st.decimals(min_value="0.001", max_value="0.9", places=3)
pairs = st.sampled_from(PAIRS)


def shown_inside(text, unit):
    """The true interval of a value by pint, and what is shown of it in another unit; both in base units."""
    quantity = parse_quantity(text)
    try:
        found = in_unit(quantity, unit)
    except TooSmallError:
        ends = [unit.from_base(e) for e in (quantity.base_low, quantity.base_high) if e is not None]
        width = abs(ends[-1] - ends[0]) if len(ends) == 2 else abs(ends[0]) / 50
        assert width < Fraction(20, 10**MOST_DECIMALS)
        assume(False)
    if len([c for c in found if c.isdigit()]) > 24:
        assume(False)  # more digits than a value may have: no unit is shown so
    shown = parse_quantity(found)
    assert shown.unit is unit
    true = [None if e is None else base(e, quantity.unit.symbol) for e in (quantity.low, quantity.high)]
    seen = [None if e is None else base(e, unit.symbol) for e in (shown.low, shown.high)]
    return quantity, shown, true, seen


@given(
    sizes, parts, pairs, st.sampled_from(["{a} ± {b} {u}", "{a} +{b}/−0 {u}", "{a} {u} ± 5 %", "{a}–{c} {u}"])
)
def test_two_sided_values_are_rounded_inward_in_every_unit(size, part, pair, form):
    one, two = pair
    if ROUND & {one.symbol, two.symbol} or ("%" in form and one.dimension in ("temperature", "ratio")):
        return
    by = (size * part).quantize(size / size / 10000)
    text = form.format(a=size, b=by, c=size + by, u=one)
    _, shown, true, seen = shown_inside(text, two)
    assert true[0] <= seen[0] < seen[1] <= true[1]
    assert seen[1] - seen[0] >= (true[1] - true[0]) * Fraction(89, 100)
    assert shown.has_tolerance


@given(sizes, pairs, st.sampled_from("≥≤<>"))
def test_one_sided_values_are_never_shown_milder_in_any_unit(size, pair, sign):
    one, two = pair
    if ROUND & {one.symbol, two.symbol}:
        return
    quantity, shown, true, seen = shown_inside(f"{sign} {size} {one}", two)
    assert shown.form == quantity.form
    assert seen[0] >= true[0] if sign in "≥>" else seen[1] <= true[1]


def test_what_no_decimals_can_show_is_not_shown():
    tiny = parse_quantity("0.00001 ± 0.000001 Pa")
    with pytest.raises(TooSmallError):
        in_unit(tiny, UNITS["psi"])
    assert in_other_system(tiny) is None


@given(sizes, sizes, pairs)
def test_conversion_keeps_order_and_comes_back(one, two, pair):
    first, second = pair
    there = [second.from_base(first.to_base(n)) for n in (one, two)]
    assert (there[0] < there[1]) == (one < two)
    assert [first.from_base(second.to_base(n)) for n in there] == [Fraction(one), Fraction(two)]


@pytest.mark.parametrize(
    ("written", "fahrenheit"),
    # worked by hand with t/°F = 1.8 · t/°C + 32; a difference has no 32
    [
        ("43 ± 1 °C", "109.4 ± 1.8 °F"),
        ("43 ± 5 °C", "109.4 ± 9.0 °F"),
        ("37 °C ± 0.5 K", "98.6 ± 0.9 °F"),
        ("36–38 °C", "96.8–100.4 °F"),
        ("−18 ± 2 °C", "−0.4 ± 3.6 °F"),
    ],
)
def test_a_tolerance_of_a_temperature_is_a_difference(written, fahrenheit):
    shown = parse_quantity(in_unit(parse_quantity(written), UNITS["°F"]))
    expected = parse_quantity(fahrenheit)
    assert (shown.nominal, shown.low, shown.high) == (expected.nominal, expected.low, expected.high)


written = st.builds(
    lambda a, b, u, form: form.format(a=a, b=b, c=a + b, u=u),
    sizes,
    st.decimals(min_value="0.1", max_value="9", places=1),
    st.sampled_from(
        [UNITS[s] for s in ("mm", "in", "cm", "V d.c.", "V a.c.", "V", "kPa", "psi", "°C", "°F")]
    ),
    st.sampled_from(["{a} {u}", "{a}–{c} {u}", "≥ {a} {u}", "≤ {a} {u}", "> {a} {u}", "< {a} {u}"]),
)


def met(quantity, value):
    """Whether a value in base units meets limits, the open forms taken as closed."""
    low, high = quantity.base_low, quantity.base_high
    return (low is None or value >= low) and (high is None or value <= high)


@given(written, written)
def test_within_is_what_trying_all_corners_says(one, two):
    one, two = parse_quantity(one), parse_quantity(two)
    if one.dimension != two.dimension or not alike(one.unit, two.unit):
        assert not one.within(two)
        assert not one.same_limits(two)
        return
    corners = [e for q in (one, two) for e in (q.base_low, q.base_high) if e is not None]
    tries = [c + step for c in corners for step in (-1, 0, 1)] + [-(10**12), 10**12]
    inside = all(met(two, v) for v in tries if met(one, v))
    assert one.within(two) is inside
    assert one.same_limits(two) is (inside and all(met(one, v) for v in tries if met(two, v)))
