"""Values as pages and cards show them: the author's words, and beside them the other system of units."""

from __future__ import annotations

import re
from functools import lru_cache

from kilter.compute.display import in_other_system
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.reading import split_reading
from kilter.compute.value import Quantity
from kilter.model.document import VALUES
from kilter.model.text import Role


def parts_of(role: Role) -> tuple[str, str]:
    """What stands before a value and names it, with its colon; and the value, both as written."""
    start = split_reading(role.text)[2] if role.name == "read" else 0
    value = role.text[start:]
    lead = len(value) - len(value.lstrip())
    return role.text[: start + lead], value[lead:]


def quantity_of(role: Role) -> Quantity | None:
    """The value of a mark; None where it can't be read."""
    return read(parts_of(role)[1]) if role.name in VALUES else None


def read(text: str) -> Quantity | None:
    try:
        return parse_quantity(text)
    except QuantityError:
        return None


@lru_cache(maxsize=8192)
def other_words(value: str, name: str = "") -> str:
    """The value in the other system, rounded inward; empty where both systems share it, or it can't be read."""
    quantity = read(value)
    return in_other_system(quantity, name) or "" if quantity is not None else ""


_JOINTS = re.compile(r"(?<=[0-9%±≥≤−]) (?=[^\s0-9(])|(?<=[±≥≤]) (?=[0-9])")


def unbroken(line: str) -> str:
    """A number is never parted from its unit, nor from its tolerance's sign, by the end of a row."""
    return _JOINTS.sub("\u00a0", line)
