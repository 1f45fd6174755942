"""Values in the other system of units, rounded so that nothing outside the true limits is ever shown.

Rounding is inward: a lower limit goes up, an upper one down. The fewest decimals are taken with which the shown
range keeps nine tenths of the true one (a single limit: 98 % of its value and no more than one step of its last
written digit). Arithmetic is exact; factors are those of `units` (NIST SP 811, 2008).
"""

from __future__ import annotations

import re
from fractions import Fraction

from kilter.compute.rounding import down, near, up, written
from kilter.compute.units import UNITS, Unit
from kilter.compute.value import Quantity

MOST_DECIMALS = 9
_OTHER = {
    "N·m": "lbf·in", "N·mm": "ozf·in", "N·cm": "ozf·in", "cN·m": "ozf·in", "mN·m": "ozf·in", "lbf·in": "N·m", "lbf·ft": "N·m",
    "ozf·in": "N·cm", "kgf·cm": "N·m", "kgf·m": "N·m",
    "mm": "in", "cm": "in", "m": "ft", "in": "mm", "ft": "m",
    "Pa": "psi", "kPa": "psi", "MPa": "psi", "bar": "psi", "mbar": "psi", "psi": "kPa", "mmHg": "kPa",
    "cmH2O": "kPa", "kgf/cm²": "kPa", "hPa": "psi", "Torr": "kPa", "inHg": "kPa", "inH2O": "kPa",
    "N": "lbf", "kN": "lbf", "lbf": "N", "kgf": "N", "ozf": "N",
    "°C": "°F", "°F": "°C", "kg": "lb", "lb": "kg", "N/mm": "lbf/in", "lbf/in": "N/mm",
}  # fmt: skip
_FEET = Fraction(20)
"""N·m from which a torque is shown in lbf·ft, as torque wrenches of that size are marked; common practice, no source."""


class TooSmallError(ValueError):
    """A value that would need more decimals than anybody reads."""

    def __init__(self) -> None:
        super().__init__("the value is too small for this unit")


def other_unit(quantity: Quantity) -> Unit | None:
    """The unit of the other system that a technician's tool is marked in; None where both systems share one."""
    symbol = _OTHER.get(quantity.unit.symbol)
    ends = [abs(e) for e in (quantity.base_low, quantity.base_high) if e is not None]
    if quantity.unit.symbol == "N·m" and ends and max(ends) >= _FEET:
        symbol = "lbf·ft"
    return UNITS[symbol] if symbol else None


_DIFFERENCE = re.compile(
    r"\b(?:rise|rises|drop|drops|difference|gradient|spread|delta|above ambient|over ambient)\b|[δ∆]"
)


def is_difference(name: str, quantity: Quantity) -> bool:
    """Whether a reading's name says that a value on a scale with a zero of its own, °C or °F, is a difference."""
    return quantity.unit.offset != 0 and _DIFFERENCE.search(name.casefold()) is not None


def in_other_system(quantity: Quantity, name: str = "") -> str | None:
    """The value as the other system writes it, such as `195 ± 17 lbf·in`; None where there is nothing to convert.

    A difference of temperatures written in °C, as the reading's name tells, is left as it stands.
    """
    unit = None if is_difference(name, quantity) else other_unit(quantity)
    try:
        return None if unit is None else in_unit(quantity, unit)
    except TooSmallError:
        return None


def in_unit(quantity: Quantity, unit: Unit) -> str:
    """The value in another unit of its dimension, rounded inward.

    Raises ValueError for another dimension, TooSmallError where the unit is so large that no decimals show the value.
    """
    if unit.dimension != quantity.dimension:
        raise ValueError(f"{quantity.unit} is a {quantity.dimension}, {unit} a {unit.dimension}")
    low, high = (None if e is None else unit.from_base(e) for e in (quantity.base_low, quantity.base_high))
    nominal = None if quantity.base_nominal is None else unit.from_base(quantity.base_nominal)
    step = _written_step(quantity) * quantity.unit.factor / unit.factor
    if quantity.form == "plain":
        assert nominal is not None
        return f"{_near(nominal, step)} {unit}"
    if low is None or high is None:
        return _bound(quantity, low, high, step, unit)
    if nominal is not None and nominal - low == high - nominal:
        return _both_ways(nominal, high - nominal, unit)
    return _range(low, high, unit)


def _written_step(quantity: Quantity) -> Fraction:
    """One step of the last written digit, in the unit as written."""
    decimals = max((len(n.partition(".")[2]) for n in quantity.numbers), default=0)
    return Fraction(1, 10**decimals)


def _near(value: Fraction, step: Fraction) -> str:
    for decimals in range(MOST_DECIMALS + 1):
        shown = near(value, decimals)
        if abs(shown - value) <= min(step, max(abs(value) / 200, step / 50)):
            return written(shown, decimals)
    raise TooSmallError


def _bound(
    quantity: Quantity, low: Fraction | None, high: Fraction | None, step: Fraction, unit: Unit
) -> str:
    value = low if low is not None else high
    assert value is not None
    turn = up if low is not None else down
    for decimals in range(MOST_DECIMALS + 1):
        shown = turn(value, decimals)
        if abs(shown - value) <= min(step, max(abs(value) / 50, step / 50)):
            break
    else:
        raise TooSmallError
    sign = {"at-least": "≥", "at-most": "≤", "above": ">", "below": "<"}[quantity.form]
    return f"{sign} {written(shown, decimals)} {unit}"


def _both_ways(nominal: Fraction, by: Fraction, unit: Unit) -> str:
    for decimals in range(MOST_DECIMALS + 1):
        middle = near(nominal, decimals)
        shown = down(by - abs(middle - nominal), decimals)
        if shown > 0 and shown >= by * 9 / 10:
            return f"{written(middle, decimals)} ± {written(shown, decimals)} {unit}"
    return _range(nominal - by, nominal + by, unit)


def _range(low: Fraction, high: Fraction, unit: Unit) -> str:
    for decimals in range(MOST_DECIMALS + 1):
        first, last = up(low, decimals), down(high, decimals)
        if first < last and last - first >= (high - low) * 9 / 10:
            break
    else:
        raise TooSmallError
    joint = "–" if first >= 0 else " to +" if last > 0 else " to "
    return f"{written(first, decimals)}{joint}{written(last, decimals)} {unit}"
