"""Units to offer behind a number, and values in the other system of units."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.assist.known import Entry
from kilter.check.marked import PURPOSES
from kilter.compute.display import in_other_system
from kilter.compute.units import UNITS
from kilter.compute.value import Quantity

_NUMBER = re.compile(r"[0-9]\)?(\s*)([^\s0-9.,;:()+±≤≥<>=~−–—-]*)$")
FIRST = ("mm", "V", "Ω", "N·m", "kPa", "°C", "A", "s", "min", "%", "N")
"""What a workshop measures most comes first."""


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


def other_system(quantity: Quantity, name: str = "") -> str:
    """The value as pages and cards show it in the other system of units; empty where there is none."""
    return in_other_system(quantity, name) or ""
