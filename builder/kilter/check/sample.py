"""Examples of how a value is written with its limits, made from the value that the author wrote."""

from __future__ import annotations

from decimal import ROUND_FLOOR, Decimal

from kilter.compute.value import Quantity

TENTH = Decimal("0.1")
"""Only for examples, and near what is common for torques; the author writes what the maker says."""


def with_tolerance(quantity: Quantity) -> str:
    """`2.5 ± 0.2 N·m` for `2.5 N·m`: a tenth, cut to one digit; empty without a number that is aimed at."""
    if not quantity.nominal:
        return ""
    off = abs(quantity.nominal) * TENTH
    off = off.quantize(Decimal(1).scaleb(off.adjusted()), rounding=ROUND_FLOOR)
    decimals = max(0, -int(off.as_tuple().exponent), -int(quantity.nominal.as_tuple().exponent))
    return f"{quantity.nominal:.{decimals}f} ± {off:f} {quantity.unit}".replace("-", "−", 1)


def with_limit(quantity: Quantity) -> str:
    """`≤ 0.3 Ω` for `0.3 Ω`; empty without one number."""
    return f"≤ {quantity.numbers[0]} {quantity.unit}" if quantity.nominal is not None else ""
