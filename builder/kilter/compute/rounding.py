"""Numbers as text, rounded in a stated direction. Exact, with a real minus sign."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, log10

MINUS = "−"
MOST_DECIMALS = 12


def up(value: Fraction, decimals: int) -> Fraction:
    """The least number of so many decimals that is not below the value."""
    return Fraction(ceil(value * 10**decimals), 10**decimals)


def down(value: Fraction, decimals: int) -> Fraction:
    """The largest number of so many decimals that is not above the value."""
    return Fraction(floor(value * 10**decimals), 10**decimals)


def near(value: Fraction, decimals: int) -> Fraction:
    """The nearest number of so many decimals."""
    return Fraction(round(value * 10**decimals), 10**decimals)


def written(value: Fraction, decimals: int) -> str:
    """A number of at most so many decimals, with all of them; raises ValueError if it has more."""
    scaled = value * 10**decimals
    if scaled.denominator != 1:
        raise ValueError(f"{value} has more than {decimals} decimals")
    digits = str(abs(scaled.numerator)).rjust(decimals + 1, "0")
    shown = digits if decimals == 0 else f"{digits[:-decimals]}.{digits[-decimals:]}"
    return (MINUS if scaled < 0 else "") + shown


def decimals_for(value: Fraction | float, digits: int) -> int:
    """Decimals with which a value shows so many significant digits; none below zero."""
    size = abs(float(value))
    if size == 0.0:
        return 0
    return max(0, min(MOST_DECIMALS, digits - 1 - floor(log10(size))))


def about(value: Fraction | float, digits: int = 3) -> str:
    """The value to so many significant digits, the nearest; whole digits are never cut off."""
    exact = Fraction(value)
    return written(near(exact, decimals_for(exact, digits)), decimals_for(exact, digits))


def _without_noise(value: Fraction | float, way: int) -> Fraction:
    """The exact value; of a float a hair less or more, so that 0.2 worked out in binary is not shown as 0.201."""
    exact = Fraction(value)
    return exact + way * abs(exact) / 10**12 if isinstance(value, float) else exact


def at_most(value: Fraction | float, digits: int = 3) -> str:
    """The value rounded towards minus infinity: for an upper limit that must not be shown higher."""
    exact = _without_noise(value, 1)
    return written(down(exact, decimals_for(exact, digits)), decimals_for(exact, digits))


def at_least(value: Fraction | float, digits: int = 3) -> str:
    """The value rounded towards plus infinity: for a lower limit or a wait that must not be shown shorter."""
    exact = _without_noise(value, -1)
    return written(up(exact, decimals_for(exact, digits)), decimals_for(exact, digits))


def _shown(low: Fraction, high: Fraction, digits: int) -> int:
    """Decimals that show a width to so many digits; where there is none, the value itself to two more."""
    return decimals_for(high - low, digits) if high != low else decimals_for(high, digits + 2)


def inside(low: Fraction, high: Fraction, digits: int = 2) -> str:
    """A range rounded inward, with the decimals that show its width to so many digits."""
    decimals = _shown(low, high, digits)
    return f"{written(up(low, decimals), decimals)} to {written(down(high, decimals), decimals)}"


def outside(low: Fraction, high: Fraction, digits: int = 2) -> str:
    """A range rounded outward: for a worst case."""
    decimals = _shown(low, high, digits)
    return f"{written(down(low, decimals), decimals)} to {written(up(high, decimals), decimals)}"


def plus_minus(middle: Fraction, by: Fraction, digits: int = 2) -> str:
    """A middle and what it may be off by, together never narrower than the truth."""
    decimals = decimals_for(by, digits) if by else decimals_for(middle, digits + 2)
    shown = near(middle, decimals)
    return f"{written(shown, decimals)} ± {written(up(by + abs(shown - middle), decimals), decimals)}"
