"""Units to offer behind a number, and values in the other system of units."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from kilter.assist.known import Entry
from kilter.check.marked import PURPOSES
from kilter.compute.units import UNITS, Unit, find_unit
from kilter.compute.value import Quantity

_NUMBER = re.compile(r"[0-9]\)?(\s*)([^\s0-9.,;:()+±≤≥<>=~−–—-]*)$")
FIRST = ("mm", "V", "Ω", "N·m", "kPa", "°C", "A", "s", "min", "%", "N")
"""What a workshop measures most comes first."""
OTHER = {
    "N·m": "lbf·in", "N·cm": "lbf·in", "cN·m": "lbf·in", "mN·m": "ozf·in", "kgf·cm": "lbf·in", "kgf·m": "lbf·ft",
    "lbf·in": "N·m", "lbf·ft": "N·m", "ozf·in": "mN·m",
    "mm": "in", "cm": "in", "m": "ft", "in": "mm", "ft": "m",
    "kPa": "psi", "bar": "psi", "MPa": "psi", "Pa": "cmH2O", "mbar": "cmH2O", "psi": "kPa", "mmHg": "kPa",
    "cmH2O": "kPa", "kgf/cm²": "kPa", "N": "lbf", "kN": "lbf", "lbf": "N", "kgf": "N", "ozf": "N",
    "°C": "°F", "°F": "°C", "K": "°C",
}  # fmt: skip
"""For each unit the one that a reader of the other system knows."""


def units(mark: str, text: str) -> Iterator[Entry]:
    """Units for a mark, once a number stands before the cursor."""
    found = _NUMBER.search(text)
    if found is None:
        return
    gap = "" if found.group(1) else " "
    wanted = PURPOSES.get(mark)
    every = sorted(UNITS.values(), key=lambda u: FIRST.index(u.symbol) if u.symbol in FIRST else len(FIRST))
    for unit in every:
        if wanted is None or unit.dimension == wanted:
            insert = unit.symbol if found.group(2) else gap + unit.symbol
            yield Entry(unit.symbol, "unit", unit.dimension, insert=insert)


def typed_unit(text: str) -> str:
    """The letters of a unit that stand right before the cursor."""
    found = _NUMBER.search(text)
    return found.group(2) if found is not None else ""


def other_system(quantity: Quantity) -> str:
    """The same value in the other system of units, rounded to what it says; empty where there is none."""
    other = find_unit(OTHER.get(quantity.unit.symbol, ""))
    if other is None:
        return ""
    low, high = (_shown(v, quantity, other) for v in (quantity.low, quantity.high))
    aim = _shown(quantity.nominal, quantity, other)
    if quantity.form == "plain":
        return f"{aim} {other}"
    if low and high:
        return f"{low} to {high} {other}" + (f", aim for {aim} {other}" if aim else "")
    return f"at least {low} {other}" if low else f"at most {high} {other}"


def _shown(value: Decimal | None, quantity: Quantity, other: Unit) -> str:
    if value is None:
        return ""
    exact = other.from_base(quantity.unit.to_base(value))
    return _rounded(exact, _places(quantity, other))


def _places(quantity: Quantity, other: Unit) -> int:
    """Decimals that lose nothing: one more than the size of the last written digit asks for."""
    written = max((len(n.partition(".")[2]) for n in quantity.numbers), default=0)
    step = Fraction(1, 10**written) * quantity.unit.factor / other.factor
    places = 0
    while places < 6 and Fraction(1, 10**places) > step:
        places += 1
    return places


def _rounded(value: Fraction, places: int) -> str:
    shown = f"{float(round(value, places)):.{places}f}"
    return shown.replace("-", "−") if float(shown) else shown.lstrip("-")
