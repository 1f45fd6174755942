"""Values as people write them: a number, its tolerance or limit, a unit.

Accepted: `5 min`, `0.6 ± 0.1 N·m`, `(22 ± 2) N·m`, `22 N·m ± 10 %`, `4 +0.5/−0.2 mm`, `5–7 N·m`,
`−75 to −85 kPa`, `≥ 24.0 V`, `at most 0.3 Ω`; `+/-`, `>=`, `<=` and plain hyphens for the typographic
signs. Numbers are kept as written and computed with exactly.
"""

from __future__ import annotations

import re
from functools import lru_cache

from kilter.compute.number import at, number, reaches, spelt
from kilter.compute.refused import NO_POWERS, About, QuantityError, diagnose
from kilter.compute.refused_unit import unit_trouble
from kilter.compute.units import Unit, find_unit
from kilter.compute.value import Form, Quantity, alike
from kilter.compute.written import BOUND, MINUS, PLAIN, RANGE, TOLERANCE, UNEVEN

__all__ = ["About", "Form", "Quantity", "QuantityError", "parse_quantity"]

MOST_CHARACTERS = 200


_BOUNDS: dict[str, Form] = {
    "≥": "at-least", "⩾": "at-least", ">=": "at-least", "=>": "at-least", "at least": "at-least",
    "≤": "at-most", "⩽": "at-most", "<=": "at-most", "=<": "at-most", "at most": "at-most",
    ">": "above", "<": "below",
}  # fmt: skip


@lru_cache(maxsize=16_384)
def parse_quantity(text: str) -> Quantity:
    """The value that a text states; raises QuantityError with what is wrong, where, and the cure."""
    if len(text) > MOST_CHARACTERS:
        message = f"value of {len(text):,} characters"
        raise QuantityError("value", message, "write a number and a unit", 0, len(text))
    lead = len(text) - len(text.lstrip())
    body = text.strip()
    try:
        return _read(body, text)
    except QuantityError as refused:
        raise refused.moved(lead) from None


def _read(body: str, text: str) -> Quantity:
    for pattern, make in _FORMS:
        match = pattern.fullmatch(body)
        if match is not None:
            return make(match, text)
    raise diagnose(body)


def _plain(match: re.Match[str], text: str) -> Quantity:
    unit = _unit(match)
    value = number(match, "a", unit)
    return Quantity(text, "plain", unit, value, value, value, (spelt(match["a"]),))


def _bound(match: re.Match[str], text: str) -> Quantity:
    unit, form = _unit(match), _BOUNDS[match["sign"].casefold()]
    value = number(match, "a", unit)
    low, high = (value, None) if form in ("at-least", "above") else (None, value)
    return Quantity(text, form, unit, None, low, high, (spelt(match["a"]),))


def _tolerance(match: re.Match[str], text: str) -> Quantity:
    unit = _unit(match, percent=True, difference=True)
    nominal, by = number(match, "a", unit), number(match, "b", None)
    if by < 0:
        raise at(match, "b", "value", "a tolerance below zero", "delete its sign: `±` means both ways")
    form: Form = "plus-minus"
    if match["u1"] and match["u2"] == "%" and unit.symbol != "%":
        if unit.dimension == "temperature":
            help = f"write the tolerance in {unit.symbol}: a percentage depends on where the scale begins"
            raise at(match, "b", "value", "a tolerance of a temperature in percent", help)
        form, by = "percent", abs(nominal) * by / 100
    if by == 0:
        help = "write how far off it may be; no tool hits a value exactly"
        raise at(match, "b", "value", "a tolerance of nothing", help)
    reaches(match, nominal - by, nominal + by, unit)
    numbers = (spelt(match["a"]), spelt(match["b"]))
    return Quantity(text, form, unit, nominal, nominal - by, nominal + by, numbers)


def _uneven(match: re.Match[str], text: str) -> Quantity:
    unit = _unit(match, difference=True)
    nominal = number(match, "a", unit)
    ends = (number(match, "b", None), number(match, "c", None))
    if match["c"][0] not in "+" + MINUS and ends[1] != 0:
        help = "write both signs, such as `4 +0.5/−0.2 mm`"
        raise at(match, "c", "value", "a tolerance without a sign", help)
    if ends[0] == ends[1]:
        raise at(match, "b", "value", "both tolerances are the same", "write how far off it may be each way")
    reaches(match, nominal + min(ends), nominal + max(ends), unit)
    numbers = (spelt(match["a"]), spelt(match["b"]), spelt(match["c"]))
    return Quantity(text, "uneven", unit, nominal, nominal + min(ends), nominal + max(ends), numbers)


def _range(match: re.Match[str], text: str) -> Quantity:
    if match["u1"] in ("e", "E"):
        raise at(match, "a", "value", f"a power of ten: `{match['a']}{match['u1']}`", NO_POWERS)
    unit = _unit(match)
    first, last = number(match, "a", unit), number(match, "b", unit)
    if not match["u2"]:
        raise at(match, "b", "unit", "a range whose end has no unit", f"write `{match['b']} {unit}`")
    if re.fullmatch(rf"\s+[{MINUS}]", match["sep"]):
        help = f"a tolerance is `{match['a']} +0/−{match['b']}`, a range is `{match['a']} to {match['b']}`"
        raise at(match, "sep", "value", "a range or a one-sided tolerance: both can be read here", help)
    dash = "to" not in match["sep"]
    if first < 0 < last and match["b"][0] != "+" and (dash or unit.dimension == "pressure"):
        # a range of vacuum whose second minus was left out would take pressure for vacuum
        help = f"write `{match['a']} to {MINUS[0]}{match['b']}` or `{match['a']} to +{match['b']}`"
        raise at(match, "b", "value", "the end of this range may be above or below zero", help)
    if first == last:
        raise at(match, "b", "range", "both ends of the range are the same", "write a value with a tolerance")
    vacuum = first <= 0 and last < 0
    if first > last and not vacuum:
        turned = f"{match['b']} to {match['a']}"
        start, end = match.start("a"), match.end("b")
        message = "the range is the wrong way round"
        raise QuantityError("range", message, f"write `{turned}`", start, end, turned)
    numbers = (spelt(match["a"]), spelt(match["b"]))
    return Quantity(text, "range", unit, None, min(first, last), max(first, last), numbers)


def _unit(match: re.Match[str], *, percent: bool = False, difference: bool = False) -> Unit:
    """The unit of a match: one, or the same twice. A tolerance may also be in percent, or in kelvin for °C."""
    groups = match.groupdict()
    first, last = groups.get("u1"), groups.get("u2")
    if not first and not last:
        help = "write it after the number, such as `mm`, `N·m` or `V`"
        raise QuantityError("unit", "no unit", help, 0, match.end())
    units = [_known(match, name, written) for name, written in (("u1", first), ("u2", last)) if written]
    if len(units) == 1 or (percent and units[1].symbol == "%"):
        return units[0]
    found = _joint(*units, difference=difference)
    if found is None:
        message = f"two units: {units[0]} and {units[1]}"
        raise at(match, "u2", "unit", message, "write the value in one unit")
    return found


def _joint(first: Unit, second: Unit, *, difference: bool) -> Unit | None:
    """The unit of two that say the same; `V` beside `V d.c.` is meant so too. A difference in K is one in °C."""
    same = first.dimension == second.dimension and first.factor == second.factor
    if not same or (first.offset != second.offset and not difference) or not alike(first, second):
        return None
    return second if second.symbol.startswith(first.symbol + " ") else first


def _known(match: re.Match[str], group: str, written: str) -> Unit:
    unit = find_unit(written)
    if unit is None:
        raise unit_trouble(written, match.start(group))
    return unit


_FORMS = (
    (PLAIN, _plain),
    (TOLERANCE, _tolerance),
    (BOUND, _bound),
    (RANGE, _range),
    (UNEVEN, _uneven),
)
"""Tried in this order: the frequent ones first; no text has two of these forms."""
