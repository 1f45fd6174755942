"""Examples in advice are about the value that was written, and are themselves values with limits."""

import pytest

from kilter.check.sample import with_limit, with_tolerance
from kilter.compute.quantity import parse_quantity


@pytest.mark.parametrize(
    ("written", "sample"),
    [
        ("2.5 N·m", "2.5 ± 0.2 N·m"),
        ("22 N·m", "22 ± 2 N·m"),
        ("6 N·m", "6.0 ± 0.6 N·m"),
        ("120 N·m", "120 ± 10 N·m"),
        ("0.35 N·m", "0.35 ± 0.03 N·m"),
        ("0.3 Ω", "0.30 ± 0.03 Ω"),
    ],
)
def test_a_tolerance_of_a_tenth_cut_to_one_digit(written: str, sample: str) -> None:
    """By hand: a tenth of the number, its first digit kept."""
    assert with_tolerance(parse_quantity(written)) == sample
    assert parse_quantity(sample).has_tolerance


@pytest.mark.parametrize("written", ["4.7 kΩ", "0.3 Ω", "−3 V", "5 mm", "0 V", "40 °C"])
def test_a_limit_in_the_unit_of_the_reading(written: str) -> None:
    quantity = parse_quantity(written)
    for sample in filter(None, (with_limit(quantity), with_tolerance(quantity))):
        read = parse_quantity(sample)
        assert read.has_limit and read.unit == quantity.unit, sample
    assert with_limit(quantity).startswith("≤ ")
