"""Numbers of a value: exact, of a sensible length, and possible for their unit."""

from __future__ import annotations

import re
from decimal import Decimal

from kilter.compute.refused import About, QuantityError
from kilter.compute.units import NEVER_NEGATIVE, Unit
from kilter.compute.written import MINUS

MOST_DIGITS = 12
"""Of one number: more is no measurement, and within it decimal arithmetic is exact."""


def number(match: re.Match[str], group: str, unit: Unit | None) -> Decimal:
    """The number of a group, possible in its unit; None as the unit for one that is a tolerance."""
    written = spelt(match[group])
    if sum(c.isdigit() for c in written) > MOST_DIGITS:
        count = sum(c.isdigit() for c in written)
        help = f"write {MOST_DIGITS} digits at most, and a larger or smaller unit"
        raise at(match, group, "value", f"a number of {count:,} digits", help)
    value = Decimal(written)
    if unit is not None:
        _possible(match, group, value, unit)
    return value


def _possible(match: re.Match[str], group: str, value: Decimal, unit: Unit) -> None:
    if value < 0 and unit.dimension in NEVER_NEGATIVE:
        raise at(match, group, "value", f"{unit.dimension} below zero", "delete the minus sign")
    if unit.dimension == "temperature" and unit.to_base(value) < 0:
        help = "look at the number and the unit"
        raise at(match, group, "value", "a temperature below absolute zero", help)


def reaches(match: re.Match[str], low: Decimal, high: Decimal, unit: Unit) -> None:
    """Refuses a tolerance that leads below the least that the dimension can have."""
    if low < 0 and unit.dimension in NEVER_NEGATIVE:
        help = f"write the limit alone, such as `≤ {high} {unit}`, or look at the numbers"
        raise at(match, "b", "value", f"the tolerance leads to a {unit.dimension} below zero", help)
    if unit.dimension == "temperature" and unit.to_base(low) < 0:
        help = "look at the numbers and the unit"
        raise at(match, "b", "value", "the tolerance leads below absolute zero", help)


def spelt(written: str) -> str:
    """A number as written, with a plain minus and without blanks."""
    sign = "-" if written[0] in MINUS else ""
    return sign + "".join(written.lstrip("+" + MINUS).split())


def at(match: re.Match[str], group: str, about: About, message: str, help: str) -> QuantityError:
    """The refusal that points at a group."""
    return QuantityError(about, message, help, match.start(group), match.end(group))
