"""What an observer hands over at a question: the number that a meter shows, where the answer's words prove it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from kilter.compute.quantity import QuantityError
from kilter.compute.reading import parse_reading
from kilter.model.base import fold
from kilter.model.text import Role
from kilter.publish.view import StepView

_NUMBER = r"[-−]?\d+(?:[.,]\d+)?"
_UNIT = r"(?: ?[a-zµμΩω°%·²/]+)?"
_OVER = re.compile(rf"\b(?:more than|above|over) ({_NUMBER}){_UNIT}|({_NUMBER}){_UNIT} or more\b")
_UNDER = re.compile(rf"\b(?:less than|below|under) ({_NUMBER}){_UNIT}|({_NUMBER}){_UNIT} or less\b")
_SIDES = re.compile(rf"\b(inside|outside)(?: (?:the limits|{_NUMBER}{_UNIT} (?:to|–) {_NUMBER}{_UNIT}))?")


@dataclass(frozen=True)
class Shown:
    """What stands on a card."""

    meter: str
    """What is read, and its number: `lever height: 8.5 mm`; empty where the words prove none."""
    words: str
    """What is seen besides; empty where the number says all."""


def shown(step: StepView, answer: int) -> Shown:
    """The number is well clear of the limit; where a step has several readings, the words alone are handed over."""
    words = step.step.answers[answer].words
    readings = [r for r in step.step.roles if r.name == "read"]
    found = _number(readings[0], fold(words)) if len(readings) == 1 else None
    if found is None:
        return Shown("", words)
    meter, rest = found
    return Shown(meter, words if rest.strip(" ,.;:") else "")


def _number(role: Role, words: str) -> tuple[str, str] | None:
    """What the meter shows, and the words that say something else."""
    try:
        reading = parse_reading(role.text)
    except QuantityError:
        return None
    quantity = reading.quantity
    low, high = quantity.low, quantity.high
    side = _side(words, low, high)
    if side is None or any(limit is not None and limit <= 0 for limit in (low, high)):
        return None
    passes, rest = side
    value = _inside(low, high) if passes else _outside(low, high)
    digits = max(len(n.partition(".")[2]) for n in quantity.numbers)
    step = Decimal(1).scaleb(-digits - (0 if low and high else 1))
    rounding = ROUND_FLOOR if value < (high or value + 1) else ROUND_CEILING
    text = format(value.quantize(step, rounding), "f")
    name = reading.name or "reading"
    return f"{name}: {text} {quantity.unit.symbol}", rest


def _side(words: str, low: Decimal | None, high: Decimal | None) -> tuple[bool, str] | None:
    """Whether the answer says inside the limits, and the words that are left; None where it can't be told."""
    if low is not None and high is not None:
        match = _SIDES.search(words)
        return (match[1] == "inside", _without(words, match)) if match else None
    for pattern, passes, limit in ((_OVER, high is None, low or high), (_UNDER, low is None, low or high)):
        match = pattern.search(words)
        if match and limit is not None and _decimal(match[1] or match[2]) == limit:
            return passes, _without(words, match)
    return None


def _without(words: str, match: re.Match[str]) -> str:
    return words[: match.start()] + words[match.end() :]


def _decimal(text: str) -> Decimal:
    return Decimal(text.replace("−", "-").replace(",", "."))


def _inside(low: Decimal | None, high: Decimal | None) -> Decimal:
    """The middle; a tenth above a lower limit; half of an upper one."""
    if low is not None and high is not None:
        return (low + high) / 2
    return low * Decimal("1.1") if low is not None else (high or Decimal(0)) / 2


def _outside(low: Decimal | None, high: Decimal | None) -> Decimal:
    """Beyond the upper limit by the width of the window; half as much again; three quarters of a lower one."""
    if low is not None and high is not None:
        return high + max(high - low, high / 50)
    return high * Decimal("1.5") if high is not None else (low or Decimal(0)) * Decimal("0.75")
