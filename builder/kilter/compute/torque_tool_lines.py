"""What an extension and a tool make of a torque, as lines of an answer."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import InputError, Line
from kilter.compute.fastener_inputs import positive, span
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import about, inside
from kilter.compute.torque_tool import Tool, judge, lever, tool
from kilter.compute.value import Quantity

_HALF_TURN = 180


def lever_of(given: Mapping[str, Any]) -> float:
    """Torque on the screw over torque indicated; 1 without an extension; raises InputError."""
    reach = {n: positive(given, n) for n in ("extension", "tool-length")}
    if reach["extension"] is None:
        for name in ("angle", "tool-length"):
            if name in given:
                raise InputError(
                    "extension", f"`{name}` without `extension`", "say how long it is, such as `150 mm`"
                )
        return 1.0
    if reach["tool-length"] is None:
        raise InputError(
            "tool-length", "`tool-length` is missing", "measure from the middle of the grip to the square"
        )
    angle: Quantity | None = given.get("angle")
    turned = Fraction(0) if angle is None else angle.base_nominal
    if turned is None or abs(turned) > _HALF_TURN:
        raise InputError("angle", "the angle lies between 0° (in line) and 180°", "such as `45 °`")
    try:
        return lever(reach["tool-length"], reach["extension"], float(turned))
    except ValueError as no:
        raise InputError("angle", str(no), "turn the extension outward") from None


def tool_of(given: Mapping[str, Any]) -> Tool | None:
    """The tool that the inputs describe; raises InputError."""
    reach: Quantity | None = given.get("tool-range")
    if reach is None:
        if "tool-accuracy" in given:
            raise InputError("tool-range", "`tool-accuracy` without `tool-range`", "such as `4–20 N·m`")
        return None
    if reach.base_high is not None:
        span(given, "tool-range")
    if reach.base_high is None:
        raise InputError(
            "tool-range", "the range has no upper end", "write it as on the tool, such as `4–20 N·m`"
        )
    least = reach.base_low if reach.form == "range" else None
    return tool(
        reach.base_high, least, accuracy(given["tool-accuracy"]) if "tool-accuracy" in given else None
    )


def accuracy(text: str) -> Fraction:
    """A share of the value from `±4 %` or `4 %`; raises InputError."""
    try:
        found = parse_quantity(re.sub(r"^\s*(?:±|\+/-)\s*", "", text))
    except QuantityError as no:
        raise InputError(
            "tool-accuracy", no.message, "write it as on its certificate, such as `±4 %`"
        ) from None
    if (
        found.dimension != "ratio"
        or found.base_nominal is None
        or not 0 < found.base_nominal < Fraction(1, 2)
    ):
        raise InputError(
            "tool-accuracy", f"`{text[:30]}` is no accuracy", "such as `±4 %` of the value", 0, len(text)
        )
    return found.base_nominal


def tool_lines(torque: Quantity, by: float, one: Tool | None) -> tuple[list[Line], str]:
    """Lines, and the verdict: holds, fails, or nothing without a tool."""
    assert torque.base_low is not None and torque.base_high is not None
    low, high = torque.base_low / Fraction(by), torque.base_high / Fraction(by)
    lines = [_indicated(torque, by)] if by != 1.0 else []
    if one is None:
        return lines, ""
    off = _percent(one.off)
    if low == high:
        fits = one.low <= low <= one.high
        said = (
            "in the tool's range; no tolerance to prove"
            if fits
            else f"outside its range, {_reach(one, torque)}"
        )
        return [*lines, Line("tool", said, main=True)], "" if fits else "fails"
    found = judge(one, low, high)
    words = {
        "able": f"able: {off} stays inside the tolerance",
        "too wide": f"not able: {off} is more than the tolerance, {_half(low, high)}",
        "out of range": f"not able: the torque lies outside its range, {_reach(one, torque)}",
    }
    lines.append(Line("tool", words[found.ability], main=True))
    if found.ability == "able":
        lines.append(_setting(torque, found.low, found.high))
    return lines, "holds" if found.ability == "able" else "fails"


def _indicated(torque: Quantity, by: float) -> Line:
    unit = torque.unit
    assert torque.low is not None and torque.high is not None
    low, high = Fraction(torque.low) / Fraction(by), Fraction(torque.high) / Fraction(by)
    if low == high:
        return Line("set the tool to", f"{about(low)} {unit}", float(low), unit=str(unit), main=True)
    middle = f"{about((low + high) / 2)} {unit}"
    text = f"{middle} (the tolerance is {inside(low, high)} {unit} on its scale)"
    return Line(
        "set the tool to", text, float((low + high) / 2), float(low), float(high), str(unit), main=True
    )


def _setting(torque: Quantity, low: Fraction, high: Fraction) -> Line:
    """Rounded inward: every setting shown keeps the tolerance."""
    ends = torque.unit.from_base(low), torque.unit.from_base(high)
    text = f"{inside(*ends)} {torque.unit}" if low < high else f"{about(ends[0])} {torque.unit}"
    return Line("settings that keep it", text, None, float(ends[0]), float(ends[1]), str(torque.unit))


def _half(low: Fraction, high: Fraction) -> str:
    return _percent((high - low) / (high + low))


def _percent(share: Fraction) -> str:
    """With the digits that tell a tolerance from an accuracy that is just a little more."""
    shown = about(share * 100, 4)
    return f"±{shown.rstrip('0').rstrip('.') if '.' in shown else shown} %"


def _reach(one: Tool, torque: Quantity) -> str:
    low, high = (torque.unit.from_base(e) for e in (one.low, one.high))
    return f"{about(low)} to {about(high)} {torque.unit}"
