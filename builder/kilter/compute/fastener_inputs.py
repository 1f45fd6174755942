"""Ends of the values that a screw's calculation is given, with what is no value of a screw refused."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import InputError
from kilter.compute.rounding import about
from kilter.compute.value import Quantity

LIMITS = {
    "torque": (0.001, 5000.0), "force": (0.1, 2e6), "pressure": (1e5, 5e9), "length": (1e-4, 10.0),
}  # fmt: skip
"""In base units: what lies beyond is no matter of a screw up to M24, but a slip of the pen."""


def positive(given: Mapping[str, Any], name: str) -> float | None:
    """The middle of a value in base units, None where it was not given; raises InputError."""
    found = span(given, name)
    return None if found is None else (found[0] + found[1]) / 2


def span(given: Mapping[str, Any], name: str) -> tuple[float, float] | None:
    """Both ends of a value in base units; an open lower end is zero; raises InputError."""
    value: Quantity | None = given.get(name)
    if value is None:
        return None
    if value.base_high is None:
        raise InputError(name, f"`{name}` has no upper limit", "write a value with a tolerance, or a range")
    low = float(value.base_low or 0)
    return _possible(name, value, low), _possible(name, value, float(value.base_high), full=True)


def least(given: Mapping[str, Any], name: str) -> float | None:
    """The lower end of a value that is asked for or promised, in base units; raises InputError."""
    value: Quantity | None = given.get(name)
    if value is None:
        return None
    if value.base_low is None:
        raise InputError(name, f"`{name}` has no lower limit", "write the least, such as `≥ 5 kN`")
    return _possible(name, value, float(value.base_low), full=True)


def _possible(name: str, value: Quantity, end: float, full: bool = False) -> float:
    if end < 0 or (full and end == 0):
        raise InputError(name, f"`{name}` has to be above zero", "look at the number")
    low, high = LIMITS[value.dimension]
    if end > high or (full and end < low):
        base = value.unit.symbol
        ends = (about(value.unit.from_base(Fraction(e))) for e in (low, high))
        help = f"{' to '.join(ends)} {base} can be worked with; look at number and unit"
        raise InputError(name, f"`{value.text.strip()[:30]}` is no {value.dimension} of a screw", help)
    return end
