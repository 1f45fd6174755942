"""Whether a reading passes, with the uncertainty of the tool that gave it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict
from kilter.compute.decision import chance_of_conformity, days_until, guarded, judge, of_meter, trend
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import about, at_least, at_most
from kilter.compute.units import BASE, Unit
from kilter.compute.value import Quantity, alike

_ANY = tuple(BASE)
INPUTS = (
    Input("limit", "the limit that the reading is judged by", "quantity", _ANY, "≤ 0.3 Ω", needed=True),
    Input("read", "what the tool shows", "quantity", _ANY, "0.27 Ω"),
    Input("uncertainty", "the tool's expanded uncertainty", "quantity", _ANY, "0.02 Ω"),
    Input("percent", "or its percent of reading, as the maker states it", "number", example="0.5"),
    Input("digits", "with so many digits", "number", example="2"),
    Input("resolution", "of this size", "quantity", _ANY, "0.001 Ω"),
    Input(
        "coverage", "the coverage factor of the uncertainty (2 where nothing is said)", "number", example="2"
    ),
    Input(
        "earlier",
        "a reading as found before, with the days since",
        "words",
        example="0.21 Ω, 180 days ago",
        many=True,
    ),
)
_WORDS: dict[str, Verdict] = {
    "pass": "holds",
    "fail": "fails",
    "too close to call": "too close to call",
    "not judged": "not judged",
}
_EARLIER = re.compile(r"\s*(?P<value>.+?)\s*,\s*(?P<days>[0-9]{1,5})\s+days?\s+ago\s*")


def work(given: Mapping[str, Any]) -> Result:
    """Verdict, the limits drawn in, chance of a wrong call, trend; raises InputError."""
    limit: Quantity = given["limit"]
    if not limit.has_limit:
        raise InputError(
            "limit", f"`{limit.text}` is no limit", "write one such as `≤ 0.3 Ω` or `24.0–28.0 V`"
        )
    unit = limit.unit
    for name in ("read", "uncertainty", "resolution"):
        if name in given and given[name].dimension != limit.dimension:
            raise InputError(
                name,
                f"`{name}` is a {given[name].dimension}, the limit a {limit.dimension}",
                "write both in one dimension",
            )
        if name in given and not alike(given[name].unit, unit):
            message = f"`{name}` is in {given[name].unit}, the limit in {unit}"
            raise InputError(name, message, "measure what the limit says")
    uncertainty = _uncertainty(given)
    lines: list[Line] = []
    verdict: Verdict = ""
    if "read" in given:
        verdict, lines = _judged(limit, _plain(given["read"], "read"), uncertainty, _coverage(given), unit)
    if uncertainty is not None:
        lines += _guarded(limit, uncertainty, unit)
    lines += _trend(given, limit, unit)
    if not lines:
        raise InputError("read", "`read` is missing", "say what the tool shows, or its `uncertainty`")
    return Result(
        lines=tuple(lines),
        formula="pass: reading ± U inside the limits; fail: reading outside; else too close to call",
        source="ISO 14253-1 (guard band), JCGM 106:2012, 7.4 (probability of conformity)",
        assumptions=() if uncertainty is not None else ("the tool is exact: no uncertainty was given",),
        cautions=("too close to call is not a pass: take a better tool, or treat it as a fail",)
        if verdict == "too close to call"
        else (),
        verdict=verdict,
        drawing=_drawing(limit, given, uncertainty, unit),
    )


def _plain(quantity: Quantity, name: str) -> Fraction:
    if quantity.form != "plain" or quantity.base_nominal is None:
        raise InputError(
            name, f"`{quantity.text}` is no single value", "write what the tool shows, such as `0.27 Ω`"
        )
    return quantity.base_nominal


def _size(quantity: Quantity, name: str) -> Fraction:
    """A size such as an uncertainty: counted from nothing, also for temperatures, where a scale has its own zero."""
    value = _plain(quantity, name) - quantity.unit.offset
    if value < 0:
        raise InputError(name, f"`{name}` is below zero", "delete its sign")
    return value


def _coverage(given: Mapping[str, Any]) -> float:
    factor = given.get("coverage", Decimal(2))
    if factor <= 0:
        raise InputError("coverage", "a coverage factor has to be above zero", "2 is usual")
    return float(factor)


def _uncertainty(given: Mapping[str, Any]) -> Fraction | None:
    if "uncertainty" in given:
        return _size(given["uncertainty"], "uncertainty")
    if "percent" not in given and "digits" not in given:
        return None
    if "read" not in given:
        raise InputError("read", "`read` is missing", "percent of reading needs the reading")
    if "digits" in given and "resolution" not in given:
        raise InputError(
            "resolution", "`resolution` is missing", "say what one digit stands for, such as `0.001 Ω`"
        )
    percent, digits = Fraction(given.get("percent", 0)), Fraction(given.get("digits", 0))
    if percent < 0 or digits < 0:
        raise InputError("percent", "an accuracy below zero", "delete its sign")
    size = _size(given["resolution"], "resolution") if "resolution" in given else Fraction(0)
    read = given["read"]
    return of_meter(_plain(read, "read") - read.unit.offset, percent, digits, size)


def _judged(
    limit: Quantity, reading: Fraction, uncertainty: Fraction | None, k: float, unit: Unit
) -> tuple[Verdict, list[Line]]:
    low, high = limit.base_low, limit.base_high
    said = judge(reading, uncertainty, low, high, limit.form != "above", limit.form != "below")
    lines = [Line("verdict", said, main=True)]
    if uncertainty:
        chance = chance_of_conformity(float(reading), float(uncertainty) / k, _number(low), _number(high))
        wrong = 1 - chance if said != "fail" else chance
        name = "chance that it fails in truth" if said != "fail" else "chance that it passes in truth"
        shown = "less than 0.1 %" if wrong < 0.001 else f"{at_least(Fraction(wrong) * 100, 2)} %"
        lines.append(Line(name, shown, wrong * 100, unit="%"))
    return _WORDS[said], lines


def _number(value: Fraction | None) -> float | None:
    return None if value is None else float(value)


def _guarded(limit: Quantity, uncertainty: Fraction, unit: Unit) -> list[Line]:
    low, high = guarded(uncertainty, limit.base_low, limit.base_high)
    if low is not None and high is not None and low >= high:
        return [Line("passes", "never: the tool is too coarse for this limit", main=True)]
    shown = []
    if low is not None:
        shown.append(f"at {at_least(unit.from_base(low), 4)} {unit} or more")
    if high is not None:
        shown.append(f"at {at_most(unit.from_base(high), 4)} {unit} or less")
    first, last = (None if e is None else float(unit.from_base(e)) for e in (low, high))
    return [Line("passes", " and ".join(shown), None, first, last, str(unit))]


def _trend(given: Mapping[str, Any], limit: Quantity, unit: Unit) -> list[Line]:
    if "earlier" not in given:
        return []
    points = [_earlier(text, limit) for text in given["earlier"]]
    if "read" in given:
        points.append((0.0, float(unit.from_base(_plain(given["read"], "read")))))
    try:
        found = trend(points)
    except ValueError as trouble:
        raise InputError("earlier", str(trouble), "give the reading of another day") from None
    low, high = (None if e is None else float(unit.from_base(e)) for e in (limit.base_low, limit.base_high))
    lines = [
        Line("trend", f"{about(found.slope * 30, 2)} {unit} in 30 days", found.slope, unit=f"{unit}/day")
    ]
    until = days_until(found, low, high)
    said = (
        "never, as it goes now"
        if until is None
        else "already"
        if until == 0
        else f"in {at_most(until, 2)} days, as it goes now"
    )
    return [*lines, Line("at the limit", said, until, unit="days")]


def _earlier(text: str, limit: Quantity) -> tuple[float, float]:
    match = _EARLIER.fullmatch(text)
    if match is None:
        raise InputError("earlier", f"`{text[:40]}` is no earlier reading", "write `0.21 Ω, 180 days ago`")
    try:
        quantity = parse_quantity(match["value"])
    except QuantityError as trouble:
        raise InputError(
            "earlier",
            trouble.message,
            trouble.help,
            match.start("value") + trouble.start,
            match.start("value") + trouble.end,
        ) from None
    if quantity.dimension != limit.dimension:
        raise InputError(
            "earlier",
            f"`{match['value']}` is a {quantity.dimension}, the limit a {limit.dimension}",
            "write both in one dimension",
        )
    return -float(match["days"]), float(limit.unit.from_base(_plain(quantity, "earlier")))


def _drawing(
    limit: Quantity, given: Mapping[str, Any], uncertainty: Fraction | None, unit: Unit
) -> dict[str, Any]:
    ends = [None if e is None else float(unit.from_base(e)) for e in (limit.base_low, limit.base_high)]
    read = float(unit.from_base(_plain(given["read"], "read"))) if "read" in given else None
    by = None if uncertainty is None else float(uncertainty / unit.factor)
    return {
        "kind": "limits",
        "unit": str(unit),
        "low": ends[0],
        "high": ends[1],
        "read": read,
        "uncertainty": by,
    }


CALCULATOR = Calculator("reading", "whether a reading passes, with the tool's uncertainty", INPUTS, work)
