"""The window of a switch's setting, and whether a setting lies in it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import about, at_least, at_most, inside, outside
from kilter.compute.spread import Part, chance_inside
from kilter.compute.switch import (
    Figures,
    FiguresMissingError,
    Window,
    figures,
    fit,
    place_in,
    recheck_after,
    released_from,
    turns,
    window,
)
from kilter.compute.units import UNITS, Unit
from kilter.compute.value import Quantity

_TRAVEL = ("length", "angle")
INPUTS = (
    Input("op", "the operating point with its tolerance", "quantity", _TRAVEL, "8.8 ± 0.2 mm"),
    Input("ot", "the overtravel that the switch has at the least", "quantity", _TRAVEL, "1.2 mm"),
    Input("md", "the movement differential at the most", "quantity", _TRAVEL, "0.8 mm"),
    Input("ttp", "the total travel position, if no overtravel is given", "quantity", _TRAVEL, "7.6 mm"),
    Input("rp", "the release point, if no movement differential is given", "quantity", _TRAVEL, "9.6 mm"),
    Input("use", "the share of the overtravel to use", "quantity", ("ratio",), "50–100 %"),
    Input("window", "the window, if the maker gives one", "quantity", _TRAVEL, "7.8–8.0 mm"),
    Input("from", "what the setting counts from", "choice", choices=("mount", "click")),
    Input("set", "the setting with its tolerance", "quantity", _TRAVEL, "7.9 ± 0.05 mm"),
    Input(
        "part",
        "a further tolerance between switch and actuator",
        "words",
        example="bracket: ±0.05 mm",
        many=True,
    ),
    Input("found", "the setting as found", "quantity", _TRAVEL, "8.3 mm"),
    Input("earlier", "the setting as left last time", "quantity", _TRAVEL, "7.9 mm"),
    Input("days", "days between earlier and found", "count", example="180"),
    Input("pitch", "travel of the setting screw a turn", "quantity", ("length",), "0.7 mm"),
    Input("ratio", "travel at the switch for one of the screw", "number", example="0.5"),
    Input(
        "away", "where the actuator stands when the switch is to be released", "quantity", _TRAVEL, "11 mm"
    ),
)

_PART = re.compile(
    r"\s*(?P<name>[^:]+?)\s*:\s*±?\s*(?P<value>[^,]+?)\s*(?:,\s*(?P<shape>normal|uniform)\s*)?"
)


def work(given: Mapping[str, Any]) -> Result:
    """The window in the unit of the figures; raises InputError."""
    unit = _one_unit(given)
    clicked = given.get("from") == "click"
    switch = figures({k: v for k, v in given.items() if isinstance(v, Quantity)})
    try:
        allowed = window(switch, clicked)
    except FiguresMissingError as missing:
        raise InputError("op", f"missing: {missing}", "give it, or the maker's `window`") from None
    lines = [_window_line(allowed, unit)]
    parts = _parts(given, unit)
    verdict: Verdict = "fails" if allowed.empty else ""
    drawing: dict[str, Any] = {"kind": "window", "unit": str(unit), "from_click": clicked}
    drawing |= {"low": _in(allowed.low, unit), "high": _in(allowed.high, unit)}
    if switch.op is not None and not clicked:
        drawing |= {"op_low": _in(switch.op[0], unit), "op_high": _in(switch.op[1], unit)}
        drawing["end"] = None if switch.ot is None else _in(switch.op[1] - switch.ot, unit)
    cautions = []
    if allowed.empty:
        cautions.append(
            "no setting suits every switch of this type: set it from its own click, or have the maker's window"
        )
    setting: Quantity | None = given.get("set")
    if setting is not None and not allowed.empty:
        verdict, more = _judged(allowed, setting, parts, unit)
        lines += more
        drawing |= {"set_low": _end(setting.base_low, unit), "set_high": _end(setting.base_high, unit)}
        drawing["set"] = _in(_aim(setting), unit)
    lines += _turning(given, setting, allowed) + _drifting(given, allowed, unit)
    if "found" in given:
        drawing["found"] = _in(_aim(given["found"]), unit)
    released, caution = _released(given, switch, unit)
    lines += released
    cautions += caution
    return Result(
        lines=tuple(lines),
        formula="window = OP(greatest) − to·OT … OP(least) − from·OT; from the click: from·OT … to·OT",
        source="terms of DIN 41636; half to all of the overtravel: precautions in makers' catalogues",
        assumptions=_assumptions(given, switch),
        cautions=(
            *cautions,
            "prove it on the machine: it has to operate in its place and release when the part has left (go and no-go)",
        ),
        verdict=verdict,
        drawing=drawing,
    )


def _one_unit(given: Mapping[str, Any]) -> Unit:
    travel = {
        k: v for k, v in given.items() if isinstance(v, Quantity) and v.dimension in _TRAVEL and k != "pitch"
    }
    kinds = {v.dimension for v in travel.values()}
    if len(kinds) > 1:
        name = next(k for k, v in travel.items() if v.dimension == "angle")
        raise InputError(
            name, "lengths and angles together", "give all of the switch's figures as one or the other"
        )
    for key in ("op", "ot", "window", "set"):
        if key in travel:
            return travel[key].unit
    return next((v.unit for v in travel.values()), UNITS["mm"])


def _in(value: Fraction, unit: Unit) -> float:
    return float(unit.from_base(value))


def _end(value: Fraction | None, unit: Unit) -> float | None:
    return None if value is None else _in(value, unit)


def _aim(setting: Quantity) -> Fraction:
    if setting.base_nominal is not None:
        return setting.base_nominal
    if setting.base_low is None or setting.base_high is None:
        raise InputError(
            "set", "a setting with one limit only", "write it with a tolerance, such as `7.9 ± 0.05 mm`"
        )
    return (setting.base_low + setting.base_high) / 2


def _window_line(allowed: Window, unit: Unit) -> Line:
    low, high = unit.from_base(allowed.low), unit.from_base(allowed.high)
    if allowed.empty:
        gap = at_least(low - high, 2)
        text = f"none: its ends overlap by {gap} {unit}" if low > high else "none: its ends fall together"
        return Line("window", text, main=True)
    text = f"{inside(low, high)} {unit}" + (" past the click" if allowed.from_click else "")
    return Line("window", text, None, float(low), float(high), str(unit), main=True)


def _parts(given: Mapping[str, Any], unit: Unit) -> list[Part]:
    found = []
    for text in given.get("part", ()):
        match = _PART.fullmatch(text)
        if match is None:
            raise InputError(
                "part",
                f"`{text[:40]}` is no part",
                "write `bracket: ±0.05 mm` or `bracket: ±0.05 mm, uniform`",
            )
        try:
            by = parse_quantity(match["value"])
        except QuantityError as trouble:
            raise InputError("part", trouble.message, trouble.help) from None
        if by.dimension != unit.dimension or by.base_nominal is None or by.base_nominal <= 0:
            raise InputError(
                "part",
                f"`{text[:40]}`: a tolerance such as `±0.05 {unit}` is asked for",
                "write it in the switch's dimension",
            )
        half = by.base_nominal
        found.append(
            Part(match["name"], -half, half, shape="uniform" if match["shape"] == "uniform" else "normal")
        )
    return found


def _judged(allowed: Window, setting: Quantity, parts: list[Part], unit: Unit) -> tuple[Verdict, list[Line]]:
    aim = _aim(setting)
    more = sum((p.half for p in parts), Fraction(0))
    low = (setting.base_low if setting.base_low is not None else aim) - more
    high = (setting.base_high if setting.base_high is not None else aim) + more
    how = fit(allowed, setting)
    holds = allowed.low <= low and high <= allowed.high
    words = {"outside": "outside the window", "too wide": "its tolerance reaches out of the window"}
    said = words.get(how) or (
        "inside the window" if holds else "inside, but not with the further parts at their worst"
    )
    chain = [Part("setting", setting.base_low or aim, setting.base_high or aim), *parts]
    chance = chance_inside(chain, allowed.low, allowed.high)
    lines = [
        Line("setting", said, main=True),
        _stands(allowed, aim, unit),
        Line(
            "worst case",
            f"{outside(unit.from_base(low), unit.from_base(high))} {unit}",
            None,
            _in(low, unit),
            _in(high, unit),
            str(unit),
        ),
        Line("chance of lying inside", f"{at_most(Fraction(chance) * 100, 4)} %", chance * 100, unit="%"),
    ]
    return ("holds" if how == "fits" and holds else "fails"), lines


def _stands(allowed: Window, aim: Fraction, unit: Unit) -> Line:
    """Where an aim stands in the window; of one outside, what to aim at."""
    place = place_in(allowed, aim) * 100
    if 0 <= place <= 100:
        text = f"{about(place, 2)} % of the way from its low end"
        return Line("place in the window", text, float(place), unit="%")
    middle = unit.from_base(_middle(allowed))
    return Line("middle of the window", f"{about(middle)} {unit}", float(middle), unit=str(unit))


def _middle(allowed: Window) -> Fraction:
    return (allowed.low + allowed.high) / 2


def _turning(given: Mapping[str, Any], setting: Quantity | None, allowed: Window) -> list[Line]:
    if "pitch" not in given or "found" not in given or setting is None:
        return []
    pitch, ratio = given["pitch"].base_nominal, Fraction(given.get("ratio", Decimal(1)))
    if not pitch or pitch <= 0 or ratio <= 0:
        raise InputError("pitch", "pitch and ratio have to be above zero", "such as `0.7 mm` and `1`")
    aim, goal = _aim(setting), ""
    if not allowed.empty and not allowed.low <= aim <= allowed.high:
        aim, goal = _middle(allowed), ", to the middle of the window"
    by = turns(aim - _aim(given["found"]), pitch, ratio)
    way = "further out" if by > 0 else "further in"
    return [
        Line(
            "turns of the screw",
            f"{about(abs(by), 2)}, so that the actuator moves {way}{goal}",
            float(by),
            unit="turns",
        )
    ]


def _drifting(given: Mapping[str, Any], allowed: Window, unit: Unit) -> list[Line]:
    if not {"found", "earlier", "days"} <= given.keys() or allowed.empty:
        return []
    was, now = _aim(given["earlier"]), _aim(given["found"])
    rate = (now - was) / given["days"]
    if rate == 0:
        return [Line("drift", "none between the two readings", 0.0, unit=f"{unit}/day")]
    margin = allowed.high - was if rate > 0 else was - allowed.low
    lines = [
        Line(
            "drift",
            f"{about(unit.from_base(rate) * 30, 2)} {unit} in 30 days",
            _in(rate, unit),
            unit=f"{unit}/day",
        )
    ]
    after = recheck_after(margin, rate)
    if margin > 0 and after is not None:
        lines.append(Line("look again after", f"{at_most(after, 2)} days", float(after), unit="days"))
    return lines


def _released(given: Mapping[str, Any], switch: Figures, unit: Unit) -> tuple[list[Line], list[str]]:
    if given.get("from") == "click" or switch.op is None or switch.md is None:
        return [], []
    beyond = released_from(switch)
    lines = [
        Line(
            "surely released from",
            f"{at_least(unit.from_base(beyond))} {unit}",
            _in(beyond, unit),
            unit=str(unit),
        )
    ]
    away: Quantity | None = given.get("away")
    if away is not None and (away.base_low is None or away.base_low < beyond):
        return lines, ["the actuator does not go far enough away for every switch of this type to release"]
    return lines, []


def _assumptions(given: Mapping[str, Any], switch: Figures) -> tuple[str, ...]:
    said = ["the end of travel moves with the operating point"]
    if "use" not in given and "window" not in given:
        said.append("half to all of the overtravel is used")
    if "part" not in given:
        said.append("bracket and actuator add nothing: their tolerance was not given")
    if "set" in given:
        said.append("a tolerance is three standard deviations, unless a part is said to be uniform")
    if switch.md is None:
        said.append("release was not looked at: no movement differential was given")
    return tuple(said)


CALCULATOR = Calculator(
    "setting", "the window of a switch's setting, and whether a setting lies in it", INPUTS, work
)
