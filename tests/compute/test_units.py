"""Unit factors against their definitions; the source stands beside each check."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.units import BASE, UNITS, Unit, find_unit, nearest_unit

EXACT = {
    # NIST SP 811 (2008), B.8, and the definitions 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg, g = 9.806 65 m/s²: computed
    "lbf·in": "0.1129848290276167",
    "lbf·ft": "1.3558179483314004",
    "ozf·in": "0.00706155181422604375",
    "kgf·cm": "0.0980665",
    "kgf·m": "9.80665",
    "lbf": "4.4482216152605",
    "kgf": "9.80665",
    "in": "0.0254",
    "ft": "0.3048",
    "kgf/cm²": "98066.5",
    "mmHg": "133.322387415",
    "cmH2O": "98.0665",
    # SI Brochure, 9th edition, table 8 and the prefixes
    "bar": "100000",
    "mbar": "100",
    "MPa": "1000000",
    "min": "60",
    "h": "3600",
    "Ah": "3600",
    "µm": "0.000001",
    "mΩ": "0.001",
    "MΩ": "1000000",
    "L": "0.001",
    "N·cm": "0.01",
    # by definition
    "turns": "360",
    "%": "0.01",
}
ROUNDED = {
    # NIST SP 811 (2008), B.8, printed to seven digits
    "psi": "6894.757",
    "mmHg": "133.3224",
    "lbf·ft": "1.355818",
    "lbf·in": "0.1129848",
    "ozf·in": "0.007061552",
    "lbf": "4.448222",
    "cmH2O": "98.06650",
}


@pytest.mark.parametrize(("symbol", "factor"), EXACT.items())
def test_factor_is_exact(symbol: str, factor: str) -> None:
    assert UNITS[symbol].factor == Fraction(factor)


@pytest.mark.parametrize(("symbol", "printed"), ROUNDED.items())
def test_factor_rounds_to_the_printed_one(symbol: str, printed: str) -> None:
    exact, digits = UNITS[symbol].factor, Decimal(printed)
    half = Fraction(Decimal(1).scaleb(int(digits.as_tuple().exponent))) / 2
    assert abs(exact - Fraction(digits)) <= half


def test_psi_is_pound_force_over_square_inch() -> None:
    """6894.757293168 Pa: computed from the definitions of NIST SP 811."""
    assert UNITS["psi"].factor == Fraction("4.4482216152605") / Fraction("0.0254") ** 2
    assert round(float(UNITS["psi"].factor), 9) == 6894.757293168


def test_bar_is_14_5_psi() -> None:
    """1 bar = 14.503 773 77 psi: computed from the definitions of NIST SP 811."""
    assert round(float(UNITS["psi"].from_base(UNITS["bar"].factor)), 8) == 14.50377377


@pytest.mark.parametrize(
    ("celsius", "fahrenheit"),
    # fixed points by definition of the scales: NIST SP 811, 4.2.1.1 and B.8 (t/°C = (t/°F − 32)/1.8)
    [("0", "32"), ("100", "212"), ("-40", "-40"), ("37", "98.6"), ("-273.15", "-459.67")],
)
def test_temperature_scales(celsius: str, fahrenheit: str) -> None:
    kelvin = UNITS["°C"].to_base(Decimal(celsius))
    assert UNITS["°F"].to_base(Decimal(fahrenheit)) == kelvin
    assert kelvin - UNITS["K"].to_base(Decimal(celsius)) == Fraction("273.15")


numbers = st.decimals(allow_nan=False, allow_infinity=False, places=6, min_value=-(10**6), max_value=10**6)
units = st.sampled_from(list(UNITS.values()))


@given(numbers, units)
def test_there_and_back_is_the_same(value: Decimal, unit: Unit) -> None:
    assert unit.from_base(unit.to_base(value)) == Fraction(value)


@given(numbers, numbers, units)
def test_conversion_keeps_the_order(one: Decimal, two: Decimal, unit: Unit) -> None:
    assert (one < two) == (unit.to_base(one) < unit.to_base(two))


def test_every_dimension_has_a_base_unit() -> None:
    assert {u.dimension for u in UNITS.values()} == set(BASE)
    for unit in UNITS.values():
        assert unit.factor > 0


@pytest.mark.parametrize(
    ("written", "symbol"),
    [
        ("Nm", "N·m"),
        ("N m", "N·m"),
        ("N⋅m", "N·m"),
        ("N • m", "N·m"),
        ("in-lb", "lbf·in"),
        ("ft·lbf", "lbf·ft"),
        ("ohm", "Ω"),
        ("\u2126", "Ω"),  # ohm sign
        ("\u03a9", "Ω"),  # Greek capital omega
        ("m\u2126", "mΩ"),
        ("uA", "µA"),
        ("\u00b5A", "µA"),  # micro sign
        ("\u03bcA", "µA"),  # Greek small mu
        ("\u212a", "K"),  # kelvin sign
        ("\u2103", "°C"),
        ("l/min", "L/min"),
        ("hours", "h"),
        ("V DC", "V d.c."),
        ("percent", "%"),
    ],
)
def test_other_spellings(written: str, symbol: str) -> None:
    assert find_unit(written) is UNITS[symbol]


@pytest.mark.parametrize(
    "written", ["nm", "mpa", "KPA", "M", "C", "mohms", "N/m", "", "\u041c\u03a9", "\u00baC"]
)
def test_case_and_alphabet_count(written: str) -> None:
    assert find_unit(written) is None


def test_milliohm_is_not_megaohm() -> None:
    assert UNITS["MΩ"].factor == 10**9 * UNITS["mΩ"].factor


@pytest.mark.parametrize(
    ("written", "meant"), [("nm", "N·m"), ("kpa", "kPa"), ("Mbar", "mbar"), ("degs", "°")]
)
def test_the_nearest_unit_is_offered(written: str, meant: str) -> None:
    assert nearest_unit(written) is UNITS[meant]
