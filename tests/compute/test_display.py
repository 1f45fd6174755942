"""The other system of units: nothing outside the true limits is ever shown, by pint as an independent judge."""

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.display import in_other_system, in_unit, other_unit
from kilter.compute.quantity import parse_quantity
from kilter.compute.units import UNITS

UREG = pint.UnitRegistry(non_int_type=Decimal)
UREG.define("conventional_mmHg = 13.5951 * 9.80665 Pa")
PINT = {
    "N·m": "N*m", "lbf·in": "lbf*inch", "lbf·ft": "lbf*foot", "ozf·in": "ounce*g_0*inch", "N·cm": "N*cm",
    "cN·m": "cN*m", "mN·m": "mN*m", "kgf·cm": "kgf*cm", "kgf·m": "kgf*m", "mm": "mm", "cm": "cm", "m": "m",
    "in": "inch", "ft": "foot", "Pa": "Pa", "kPa": "kPa", "MPa": "MPa", "bar": "bar", "mbar": "mbar",
    "psi": "psi", "mmHg": "conventional_mmHg", "N": "N", "kN": "kN", "lbf": "lbf", "kgf": "kgf",
    "°C": "degC", "°F": "degF", "kg": "kg", "lb": "lb",
}  # fmt: skip


def converted(value, unit, other):
    return Decimal(UREG.Quantity(Decimal(value), PINT[unit.symbol]).to(PINT[other.symbol]).magnitude)


numbers = st.decimals(min_value="0.01", max_value="9999", places=2)
units = st.sampled_from([u for u in PINT if UNITS[u].dimension != "temperature"])
SLACK = Decimal("1e-12")
"""Of pint's own arithmetic with 28 digits, as a share of the value."""


@given(numbers, st.decimals(min_value="0.01", max_value="99", places=2), units)
def test_a_tolerance_is_shown_inside_the_true_one(nominal, by, symbol):
    nominal += by  # a torque, a mass below zero is refused
    quantity = parse_quantity(f"{nominal} ± {by} {symbol}")
    unit = other_unit(quantity)
    shown = parse_quantity(in_other_system(quantity))
    low, high = (converted(nominal + sign * by, quantity.unit, unit) for sign in (-1, 1))
    slack = SLACK * max(abs(low), abs(high), 1)
    assert low - slack <= shown.low < shown.high <= high + slack
    assert shown.high - shown.low >= (high - low) * Decimal("0.89")


@given(numbers, st.sampled_from(["≥", "≤", ">", "<"]), units)
def test_a_limit_is_never_shown_milder(value, sign, symbol):
    quantity = parse_quantity(f"{sign} {value} {symbol}")
    shown = parse_quantity(in_other_system(quantity))
    true = converted(value, quantity.unit, shown.unit)
    slack = SLACK * max(abs(true), 1)
    if sign in "≥>":
        assert true - slack <= shown.low <= true * Decimal("1.021") + slack
    else:
        assert true * Decimal("0.979") - slack <= shown.high <= true + slack
    assert shown.form == quantity.form


@given(st.decimals(min_value="-50", max_value="250", places=1), st.decimals("0.1", "20", places=1))
def test_temperatures_move_their_zero(value, by):
    shown = parse_quantity(in_other_system(parse_quantity(f"{value} ± {by} °C")))
    assert value * 9 / 5 + 32 - by * 9 / 5 <= shown.low < shown.high <= value * 9 / 5 + 32 + by * 9 / 5


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("0.6 ± 0.1 N·m", "5.3 ± 0.8 lbf·in"),
        ("120 ± 5 N·m", "88.5 ± 3.6 lbf·ft"),
        ("5–7 N·m", "45–61 lbf·in"),
        ("−75 to −85 kPa", "−12.3 to −10.9 psi"),
        ("4 +0.5/−0.2 mm", "0.150–0.177 in"),
        ("−50 to +100 kPa", "−7 to +14 psi"),
        ("−20 to 0 °C", "−4 to +32 °F"),
        ("≤ 43 °C", "≤ 109 °F"),
        ("37.5 ± 0.5 °C", "99.5 ± 0.9 °F"),
        ("25 mm", "0.98 in"),
        ("3 ft", "0.91 m"),
    ],
)
def test_as_a_technician_reads_it(written, shown):
    """Worked with the factors of NIST SP 811 (2008), appendix B.8, and rounded inward by hand."""
    assert in_other_system(parse_quantity(written)) == shown


@pytest.mark.parametrize("text", ["24.0 V", "≤ 0.3 Ω", "5 min", "≥ 2 A", "50 Hz"])
def test_what_both_systems_share_is_shown_once(text):
    assert in_other_system(parse_quantity(text)) is None


def test_another_dimension_is_refused():
    with pytest.raises(ValueError, match="torque"):
        in_unit(parse_quantity("5 N·m"), UNITS["mm"])


@pytest.mark.parametrize("name", ["rise above ambient", "temperature drop", "ΔT", "Difference left to right"])
def test_a_difference_of_temperatures_is_never_shown_as_a_temperature(name):
    assert in_other_system(parse_quantity("≤ 10 °C"), name) is None
    assert in_other_system(parse_quantity("≤ 10 mm"), name) == "≤ 0.39 in"
    assert in_other_system(parse_quantity("≤ 10 °C"), "plate") == "≤ 50 °F"
