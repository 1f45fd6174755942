"""Numbers as text never lie to the side they must not, for any number; Decimal reads them back as the second path."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.compute.rounding import about, at_least, at_most, inside, outside, plus_minus, written

exact = st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**7)
digits = st.integers(1, 6)
MOST = Fraction(1, 10**12)
"""One step of the last decimal there is."""


def read(text):
    return Fraction(Decimal(text.replace("−", "-")))


@given(exact, digits)
def test_a_limit_is_shown_on_its_safe_side_and_close(value, shown):
    low, high, middle = read(at_most(value, shown)), read(at_least(value, shown)), read(about(value, shown))
    assert low <= value <= high
    step = max(abs(value) / 10 ** (shown - 1), MOST) if abs(value) < 10 ** (shown - 1) else Fraction(1)
    assert high - low <= step
    assert abs(middle - value) <= step / 2 + MOST


@given(exact, exact, digits)
def test_a_range_is_rounded_inward_or_outward(one, two, shown):
    low, high = min(one, two), max(one, two)
    first, last = map(read, outside(low, high, shown).split(" to "))
    assert first <= low <= high <= last
    first, last = map(read, inside(low, high, shown).split(" to "))
    assert low <= first
    assert last <= high


@given(exact, st.fractions(0, 1000, max_denominator=10**6), digits)
def test_a_middle_and_its_tolerance_hold_all_of_the_truth(middle, by, shown):
    centre, width = map(read, plus_minus(middle, by, shown).split(" ± "))
    assert centre - width <= middle - by
    assert middle + by <= centre + width


def test_a_range_without_width_shows_the_value():
    """Once it showed the whole numbers around it: `7 to 8` for 7.9."""
    assert outside(Fraction("7.9"), Fraction("7.9")) == "7.900 to 7.900"
    assert inside(Fraction("7.9"), Fraction("7.9")) == "7.900 to 7.900"
    assert plus_minus(Fraction("7.9"), Fraction(0)) == "7.900 ± 0.000"


@pytest.mark.parametrize(("value", "shown"), [(0.1 + 0.2, "0.300"), (0.7 * 3, "2.10"), (1.1 * 1.1, "1.21")])
def test_the_noise_of_binary_numbers_is_not_shown(value, shown):
    assert at_most(value) == at_least(value) == about(value) == shown


def test_a_number_of_more_decimals_is_refused():
    with pytest.raises(ValueError, match="more than 1 decimals"):
        written(Fraction("0.25"), 1)
