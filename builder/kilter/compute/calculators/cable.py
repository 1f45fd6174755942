"""A cable's resistance, and the voltage and heat that are lost in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from kilter.compute.cable import awg_area, resistance
from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict, lower
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import about, at_least
from kilter.compute.value import Quantity

INPUTS = (
    Input("size", "the conductor", "words", example="1.5 mm² or AWG 16", needed=True),
    Input("length", "the length of the cable, one way", "quantity", ("length",), "3 m", needed=True),
    Input("ways", "conductors in the loop (2 for out and back)", "count", example="2"),
    Input("current", "the current", "quantity", ("current",), "8 A"),
    Input("supply", "the voltage at its beginning", "quantity", ("voltage",), "24 V"),
    Input("temperature", "how warm the conductor is", "quantity", ("temperature",), "20 °C"),
    Input("joints", "the resistance of plugs and joints together", "quantity", ("resistance",), "10 mΩ"),
    Input("limit", "what may be lost, of the supply or in volt", "quantity", ("ratio", "voltage"), "≤ 5 %"),
    Input("read", "the resistance as measured", "quantity", ("resistance",), "95 mΩ"),
)
_AWG = re.compile(r"\s*AWG\s*([0-9]{1,2})\s*", re.IGNORECASE)


def work(given: Mapping[str, Any]) -> Result:
    """Resistance, loss, heat; raises InputError."""
    area = _area(given["size"])
    celsius = float(given["temperature"].base_high or 0) - 273.15 if "temperature" in given else 20.0
    if not -60 <= celsius <= 200:
        raise InputError("temperature", "a cable of this temperature is none", "look at the number")
    length, ways = _size(given, "length"), given.get("ways", 2)
    joints = _size(given, "joints") if "joints" in given else 0.0
    ohm = resistance(area, length, celsius) * ways + joints
    lines = [
        Line("resistance", f"{_ohm(ohm)} for the loop of {ways}", ohm, unit="Ω", main="current" not in given)
    ]
    verdict, more = _loss(given, ohm)
    return Result(
        lines=(*lines, *more, *_measured(given, ohm)),
        formula="R = ρ·l/A · conductors + joints, ρ = 1/58 Ω·mm²/m · (1 + 0.00393·(ϑ − 20 °C)); U = I·R; P = I²·R",
        source="IEC 60028 (copper), ASTM B258 (gauges)",
        assumptions=_assumptions(given),
        cautions=(
            "a cable frayed at its connector measures well until it is moved: measure while you bend it",
        ),
        verdict=verdict,
    )


def _area(text: str) -> float:
    match = _AWG.fullmatch(text)
    if match is not None:
        try:
            return awg_area(int(match[1]))
        except ValueError as trouble:
            raise InputError(
                "size", str(trouble), "write `AWG 16`, or the area in mm²", 0, len(text)
            ) from None
    try:
        quantity = parse_quantity(text)
    except QuantityError as trouble:
        raise InputError(
            "size", trouble.message, "write `1.5 mm²` or `AWG 16`", trouble.start, trouble.end
        ) from None
    if quantity.dimension != "area" or not quantity.base_low:
        raise InputError(
            "size", f"`{text[:40]}` is no size of a conductor", "write `1.5 mm²` or `AWG 16`", 0, len(text)
        )
    return float(quantity.base_low)


def _size(given: Mapping[str, Any], name: str) -> float:
    quantity: Quantity = given[name]
    high = quantity.base_high
    if high is None or high <= 0:
        raise InputError(name, f"`{quantity.text}` has no upper end above zero", "look at the number")
    return float(high)


def _ohm(value: float) -> str:
    return f"{about(value * 1000)} mΩ" if value < 1 else f"{about(value)} Ω"


def _loss(given: Mapping[str, Any], ohm: float) -> tuple[Verdict, list[Line]]:
    if "current" not in given:
        if "limit" in given:
            raise InputError("current", "`current` is missing", "what is lost depends on it")
        return "", []
    current = _size(given, "current")
    lost = current * ohm
    lines = [Line("lost", f"{at_least(lost)} V", lost, unit="V", main=True)]
    if "supply" in given:
        share = lost / lower(given, "supply") * 100
        lines.append(Line("of the supply", f"{at_least(share, 2)} %", share, unit="%"))
    lines.append(Line("heat", f"{about(current**2 * ohm)} W", current**2 * ohm, unit="W"))
    return _kept(given, lost), lines


def _kept(given: Mapping[str, Any], lost: float) -> Verdict:
    limit: Quantity | None = given.get("limit")
    if limit is None:
        return ""
    most = limit.base_high
    if most is None or most <= 0:
        raise InputError("limit", f"`{limit.text}` is no upper limit", "write one such as `≤ 5 %` or `≤ 1 V`")
    if limit.dimension == "ratio":
        if "supply" not in given:
            raise InputError(
                "supply", "`supply` is missing", "a share is of the voltage at the cable's beginning"
            )
        return "holds" if lost <= float(most) * lower(given, "supply") else "fails"
    return "holds" if lost <= float(most) else "fails"


def _measured(given: Mapping[str, Any], ohm: float) -> list[Line]:
    if "read" not in given:
        return []
    times = _size(given, "read") / ohm
    words = (
        "as a sound cable has it"
        if times <= 1.25
        else "more than a sound cable has: strands or a joint are gone"
    )
    return [Line("as measured", f"{about(times, 2)} times what was worked out: {words}", times)]


def _assumptions(given: Mapping[str, Any]) -> tuple[str, ...]:
    said = ["the conductor is of copper"]
    if "temperature" not in given:
        said.append("it is at 20 °C; at 70 °C it has a fifth more")
    if "ways" not in given:
        said.append("the current goes out and back")
    if "joints" not in given:
        said.append("plugs and joints add nothing")
    if "read" in given:
        said.append("a quarter more than worked out is taken for sound: common practice, no source")
    return tuple(said)


CALCULATOR = Calculator("cable", "a cable's resistance, and what is lost in it", INPUTS, work)
