"""A chain of dimensions: worst case, root sum of squares, who contributes what."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import about, at_most, outside, plus_minus
from kilter.compute.spread import Part, Shape, Spread, chance_inside, spread
from kilter.compute.units import Unit
from kilter.compute.value import Quantity

_TRAVEL = ("length", "angle")
INPUTS = (
    Input(
        "part",
        "each dimension of the chain, with its sign",
        "words",
        example="+ case depth: 40.00 ± 0.10 mm",
        needed=True,
        many=True,
    ),
    Input("limit", "what the result has to keep", "quantity", _TRAVEL, "2.5–3.5 mm"),
)

_PART = re.compile(
    r"\s*(?P<sign>[+−-])?\s*(?:(?P<weight>[0-9]+(?:\.[0-9]+)?)\s*[×x]\s*)?(?P<name>[^:]*?)\s*:\s*"
    r"(?P<value>[^,]+?)\s*(?:,\s*(?P<shape>normal|uniform)\s*)?"
)
_EXAMPLE = "write `+ case depth: 40.00 ± 0.10 mm` or `− washer: 2.0 ± 0.1 mm, uniform`"


def work(given: Mapping[str, Any]) -> Result:
    """The result of the chain in the unit of its first part; raises InputError."""
    read = [_part(text) for text in given["part"]]
    unit = read[0][1].unit
    if any(q.dimension != unit.dimension for _, q in read):
        raise InputError(
            "part", "the parts are not all of one dimension", "give them all as lengths, or all as angles"
        )
    parts = [p for p, _ in read]
    found = spread(parts)
    limit: Quantity | None = given.get("limit")
    lines = [*_results(found, unit), *_contributions(found)]
    verdict: Verdict = ""
    if limit is not None:
        if limit.dimension != unit.dimension:
            raise InputError(
                "limit",
                f"a limit in {limit.unit} for a result in {unit}",
                "write it in the dimension of the parts",
            )
        verdict, more = _kept(parts, found, limit)
        lines += more
    return Result(
        lines=tuple(lines),
        formula="result = Σ ±dimension; worst case Σ tolerance; statistical √Σ tolerance²",
        source="Budynas, Nisbett: Shigley's Mechanical Engineering Design, 1-13 (example 1-3)",
        assumptions=(
            "the parts are independent of each other",
            "a tolerance is three standard deviations, unless a part is said to be uniform",
        ),
        cautions=("where a wrong result can hurt, the worst case counts, not the statistical one",),
        verdict=verdict,
        drawing={"kind": "stack", "shares": [list(share) for share in found.shares]},
    )


def _part(text: str) -> tuple[Part, Quantity]:
    match = _PART.fullmatch(text)
    if match is None:
        raise InputError("part", f"`{text[:40]}` is no part of a chain", _EXAMPLE)
    try:
        quantity = parse_quantity(match["value"])
    except QuantityError as trouble:
        at = match.start("value")
        raise InputError(
            "part", trouble.message, trouble.help, at + trouble.start, at + trouble.end
        ) from None
    low, high = quantity.base_low, quantity.base_high
    if quantity.dimension not in _TRAVEL or low is None or high is None:
        raise InputError(
            "part",
            f"`{match['value'][:40]}` is no dimension with a tolerance",
            _EXAMPLE,
            match.start("value"),
            match.end("value"),
        )
    weight = Fraction(match["weight"] or 1) * (-1 if match["sign"] in ("-", "−") else 1)
    if weight == 0:
        raise InputError("part", "a part that counts for nothing", "leave it out")
    shape: Shape = "uniform" if match["shape"] == "uniform" else "normal"
    return Part(match["name"] or "part", low, high, weight, shape), quantity


def _results(found: Spread, unit: Unit) -> list[Line]:
    middle, worst = unit.from_base(found.middle), unit.from_base(found.worst)
    low, high = middle - worst, middle + worst
    rss = Fraction(found.rss) / unit.factor
    return [
        Line(
            "result",
            f"{plus_minus(middle, worst)} {unit}",
            float(middle),
            float(low),
            float(high),
            str(unit),
            main=True,
        ),
        Line(
            "worst case",
            f"{outside(low, high)} {unit}",
            None,
            float(low),
            float(high),
            str(unit),
        ),
        Line(
            "statistical",
            f"{plus_minus(middle, rss)} {unit}",
            float(rss),
            float(middle - rss),
            float(middle + rss),
            str(unit),
        ),
    ]


def _contributions(found: Spread) -> list[Line]:
    return [
        Line(
            f"from {name}",
            f"{about(100 * worst, 2)} % of the worst case, {about(100 * rss, 2)} % statistically",
            100 * worst,
            unit="%",
        )
        for name, worst, rss in found.shares
    ]


def _kept(parts: list[Part], found: Spread, limit: Quantity) -> tuple[Verdict, list[Line]]:
    low, high = found.middle - found.worst, found.middle + found.worst
    kept = (limit.base_low is None or low >= limit.base_low) and (
        limit.base_high is None or high <= limit.base_high
    )
    chance = chance_inside(parts, limit.base_low, limit.base_high)
    words = "kept, whatever the parts do" if kept else "not kept in the worst case"
    return ("holds" if kept else "fails"), [
        Line("limit", words, main=True),
        Line("chance of keeping it", f"{at_most(Fraction(chance) * 100, 4)} %", chance * 100, unit="%"),
    ]


CALCULATOR = Calculator("stack", "what a chain of dimensions comes to", INPUTS, work)
