"""Limits as people say them in answers and profiles: `below 1 V`, `0.3 Ω or less`, `between 4 and 6 bar`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from kilter.compute.quantity import Quantity, QuantityError, parse_quantity

_SIGNS = {
    "<": r"below|under|less than|lower than|<",
    ">": r"above|over|more than|higher than|greater than|>",
    "≥": r"at least|not less than|no less than|≥|>=",
    "≤": r"at most|not more than|no more than|up to|≤|<=",
}
_AFTER = {"≥": r"or (?:more|above|over|higher|greater)", "≤": r"or (?:less|below|under|lower)"}
_NUMBER = r"(?:[-−–+]\s?)?[0-9][0-9.]*\s?[^\s0-9,;:()]*[^\s0-9,;:().]"
_WHICH = re.compile(
    r"(?:(?:both|all|every|each|any|either)(?: of them| two| three| four| readings?| value)?|it|inside|within)"
    r"(?: (?:at|of|is|are|reads?))?\s+",
    re.I,
)
"""Words in front that don't change where the limit lies."""
_GOES_ON = re.compile(r"[,;.:]|\s+(?:so|and|or|but|at|on|in)\b")
_PHRASES = (
    re.compile(rf"(?P<sign>{'|'.join(_SIGNS.values())})\s*(?P<value>{_NUMBER})(?=[,;.:]|\s|$)", re.I),
    re.compile(rf"(?P<value>{_NUMBER})\s+(?P<after>{'|'.join(_AFTER.values())})\b", re.I),
    re.compile(
        rf"between\s+(?P<from>{_NUMBER}|[-−–+]?[0-9.]+)\s+and\s+(?P<to>{_NUMBER})(?=[,;.:]|\s|$)", re.I
    ),
    re.compile(rf"(?P<range>[-−–+]?[0-9][0-9.]*(?:\s?\S+)?\s?(?:±|–|to)\s?{_NUMBER})(?=[,;.:]|\s|$)", re.I),
)


@dataclass(frozen=True, slots=True)
class Limit:
    """What a reading may be, in the base unit of its dimension; None: no end on that side."""

    text: str
    """As it was said."""
    dimension: str
    low: Fraction | None
    high: Fraction | None
    has_low: bool
    """Whether the lower end itself belongs to it."""
    has_high: bool
    rest: str = ""
    """What is said after it, such as `, or the jacket is cut`."""

    @property
    def alone(self) -> bool:
        """Whether nothing else narrows it."""
        return not self.rest.strip() or bool(re.match(r"\s*[,;]?\s*or\b", self.rest, re.I))


def limit_at(words: str) -> Limit | None:
    """The limit that a text begins with, None where it begins otherwise."""
    if not any(map(str.isdigit, words)):
        return None
    which = _WHICH.match(words)
    start = which.end() if which else 0
    for pattern in _PHRASES:
        match = pattern.match(words, start)
        rest = words[match.end() :] if match else ""
        if match and (not rest or _GOES_ON.match(rest)):
            return _limit(match, rest)
    return None


def limits_in(text: str) -> Iterator[Limit]:
    """Every limit that is said somewhere in a text."""
    for pattern in _PHRASES[:3]:
        for match in pattern.finditer(text):
            found = _limit(match, "")
            if found is not None:
                yield found


def of_quantity(quantity: Quantity) -> Limit:
    """The limits of a marked value."""
    low, high, form = quantity.base_low, quantity.base_high, quantity.form
    return Limit(quantity.text, quantity.dimension, low, high, form != "above", form != "below")


def _limit(match: re.Match[str], rest: str) -> Limit | None:
    quantity = _quantity(_spelt(match))
    if quantity is None or not quantity.has_limit:
        return None
    limit = of_quantity(quantity)
    return Limit(
        match[0], limit.dimension, limit.low, limit.high, limit.has_low, limit.has_high, rest.rstrip(". ")
    )


def _spelt(match: re.Match[str]) -> str:
    """The phrase as a marked value would write it."""
    said = match.groupdict()
    if said.get("range"):
        return str(said["range"])
    if said.get("from"):
        start = said["from"] if re.search(r"[^-−–+\s0-9.]", said["from"]) else said["from"].strip()
        return f"{start} to {said['to']}"
    word, table = (said["sign"], _SIGNS) if said.get("sign") else (said["after"], _AFTER)
    sign = next(s for s, words in table.items() if re.fullmatch(words, word, re.I))
    return f"{sign} {said['value']}"


@lru_cache(maxsize=4096)
def _quantity(text: str) -> Quantity | None:
    try:
        return parse_quantity(text)
    except QuantityError:
        return None
