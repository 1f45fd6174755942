"""What an answer says of the readings of its step, where its words leave no doubt.

`Inside 8.0 to 8.3 mm`, `10 mm or more`, `Both inside their limits` can only be true of some readings; the phone and
the records hold an answer against what was read by it (`compute/answerfit.py`). Words with an `or` in them, or that
speak of more than the readings can show, say nothing here: such an answer is asked about, never closed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from kilter.check.limits import Limit, limit_at
from kilter.compute.quantity import Quantity
from kilter.compute.units import Unit

Row = dict[str, Any]
_TAIL = r"(?P<rest>$|[,;.].*|\s+(?:so|and)\b.*)"
_INSIDE = re.compile(
    rf"(?:(?P<every>both|all|each)(?: of them)? )?(?:inside|within)(?: (?:the|its|their) limits?)?{_TAIL}",
    re.I,
)
_OUTSIDE = re.compile(
    rf"(?:(?:either|any|one)(?: of them| one)? )?outside(?: (?:the|its|their) limits?)?{_TAIL}", re.I
)
_OUTSIDE_OF = re.compile(r"outside\s+", re.I)
_EVERY = re.compile(r"(?:both|all|each|every)\b", re.I)
_OR = re.compile(r"\bor\b", re.I)
_SO = re.compile(r"\s*(?:$|,?\s*so\b)", re.I)
_PLACES = 12
"""Digits on either side of the point that a record's numbers have."""


def fits_of(words: str, readings: Sequence[tuple[Row, Quantity]]) -> dict[str, Any] | None:
    """`inside` and the limits of readings that the answer is about; None where its words prove nothing.

    With `inside` the answer says that each of them is inside its limits, without it that at least one is not.
    """
    if not readings:
        return None
    if found := _INSIDE.fullmatch(words):
        return _said(True, found["rest"], [_own(row) for row, _ in readings])
    if found := _OUTSIDE.fullmatch(words):
        return _said(False, found["rest"], [_own(row) for row, _ in readings])
    outside = _OUTSIDE_OF.match(words)
    limit = limit_at(words[outside.end() :] if outside else words)
    if limit is None:
        return None
    about = [(row, q) for row, q in readings if q.dimension == limit.dimension]
    if len(about) != 1 and (outside or not _EVERY.match(words)):
        return None
    spelt = [_limit(row, q.unit, limit) for row, q in about]
    return _said(not outside, limit.rest, [each for each in spelt if each]) if spelt and all(spelt) else None


def _said(inside: bool, rest: str, limits: list[list[Any]]) -> dict[str, Any] | None:
    """That a reading is outside is all that counts only where nothing narrows it: another place may be meant."""
    if _OR.search(rest) or not (inside or _SO.match(rest)):
        return None
    return {"inside": inside, "limits": limits}


def _own(row: Row) -> list[Any]:
    return [row["id"], row["low"], row["high"], row["lowItself"], row["highItself"]]


def _limit(row: Row, unit: Unit, limit: Limit) -> list[Any] | None:
    """The limit in the unit of the reading; None where it does not end there as a decimal."""
    ends = []
    for base in (limit.low, limit.high):
        spelt = "" if base is None else _decimal((base - unit.offset) / unit.factor)
        if spelt is None:
            return None
        ends.append(spelt)
    return [row["id"], *ends, limit.has_low, limit.has_high]


def _decimal(value: Fraction) -> str | None:
    scaled = value * 10**_PLACES
    if scaled.denominator != 1 or abs(value) >= 10**_PLACES:
        return None
    whole, part = divmod(abs(scaled.numerator), 10**_PLACES)
    digits = f"{whole}.{part:0{_PLACES}d}".rstrip("0").rstrip(".")
    return f"-{digits}" if value < 0 else digits
