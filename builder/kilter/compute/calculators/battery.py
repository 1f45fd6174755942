"""What a battery's voltage says, how long it lasts, and when a machine whose charger has stopped goes flat."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from kilter.compute.battery import (
    EXPONENTS,
    Charge,
    Use,
    ampere_hours_a_day,
    at_temperature,
    days_until_flat,
    lead_acid_charge,
    peukert_hours,
    recharge_hours,
    sag,
    table_charge,
)
from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, direct
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import about, at_least, at_most
from kilter.compute.value import Quantity

LEAD_ACID = {"lead-acid flooded": "flooded", "lead-acid AGM": "agm", "lead-acid gel": "gel"}
CHEMISTRIES = (*LEAD_ACID, "lithium-ion", "lithium iron phosphate", "nickel-metal hydride", "nickel-cadmium")
REST = 4 * 3600.0
"""Seconds without charge or load before a lead-acid voltage says anything: common practice, no source."""
INPUTS = (
    Input(
        "chemistry",
        "what kind of battery it is",
        "choice",
        choices=CHEMISTRIES,
        example="lead-acid AGM",
        needed=True,
    ),
    Input("voltage", "the voltage at its terminals", "quantity", ("voltage",), "25.0 V"),
    Input("rested", "how long it has stood without charge or load", "quantity", ("time",), "6 h"),
    Input("cells", "its cells in series (6 for 12 V lead-acid)", "count", example="12"),
    Input("table", "a point of the maker's table", "words", example="26.2 V: 80 %", many=True),
    Input("capacity", "its rated capacity", "quantity", ("charge",), "12 Ah"),
    Input("rated", "the time that capacity is rated over", "quantity", ("time",), "20 h"),
    Input("current", "the current drawn", "quantity", ("current",), "5 A"),
    Input("exponent", "Peukert's exponent, from the maker", "number", example="1.1"),
    Input("temperature", "how warm it is", "quantity", ("temperature",), "10 °C"),
    Input("slope", "capacity lost for each kelvin below 25 °C, in percent", "number", example="0.8"),
    Input("use", "a part of the machine's day", "words", example="standby: 0.08 A, 22 h", many=True),
    Input("charged", "how full it is to begin with", "quantity", ("ratio",), "100 %"),
    Input("resistance", "its internal resistance", "quantity", ("resistance",), "20 mΩ"),
    Input("charge-current", "what the charger gives", "quantity", ("current",), "1.5 A"),
    Input("acceptance", "the share of it that the battery keeps, in percent", "number", example="85"),
)
_USE = re.compile(r"\s*(?P<name>[^:]+?)\s*:\s*(?P<current>[^,]+?)\s*,\s*(?P<hours>[^,]+?)\s*(?:a day)?\s*")
_POINT = re.compile(r"\s*(?P<voltage>[^:]+?)\s*:\s*(?P<percent>[^:]+?)\s*")


def work(given: Mapping[str, Any]) -> Result:
    """Whatever the inputs allow; raises InputError."""
    said: list[str] = []
    points = [_point(text) for text in given.get("table", ())]
    lines = [
        *_charge(given, points, said),
        *_runtime(given, said),
        *_flat(given, said),
        *_sag(given),
        *_recharge(given),
    ]
    if not lines:
        raise InputError(
            "voltage", "nothing to work with", "give `voltage`, or `capacity` with `current` or `use`"
        )
    drawing: dict[str, Any] = {}
    flat = next((line for line in lines if line.name == "flat after"), None)
    if flat is not None:
        drawing = {"kind": "flat", "days": flat.value}
    return Result(
        lines=tuple(lines),
        formula="t = H·(C/(I·H))^k; days = usable Ah / Ah a day; U = U₀ − I·R",
        source="Peukert's law in the form that keeps the rated point; rested lead-acid voltages: two published tables, ±0.05 V",
        assumptions=tuple(said),
        cautions=(
            "a voltage under charge, or just after it, says nothing about the charge: a load test does",
            "a machine that has not been charged looks well until it is needed: check the charge lamp before use",
        ),
        drawing=drawing,
    )


def _above_zero(given: Mapping[str, Any], name: str) -> float:
    """The value in its base unit; a tolerance is refused, as which end is the worse depends on the question."""
    quantity: Quantity = given[name]
    if quantity.base_nominal is None or quantity.has_limit:
        help = "write one value: of a capacity the lower end, of a current the upper one"
        raise InputError(name, f"`{quantity.text}` is no single value", help)
    if quantity.base_nominal <= 0:
        raise InputError(name, f"`{name}` has to be above zero", "look at the number")
    return float(quantity.base_nominal)


def _charge(given: Mapping[str, Any], points: list[tuple[float, float]], said: list[str]) -> list[Line]:
    direct(given, "voltage")
    if "voltage" not in given:
        return []
    voltage = _above_zero(given, "voltage")
    if points:
        try:
            found = table_charge(voltage, points)
        except ValueError as trouble:
            raise InputError("table", str(trouble), "copy it from the maker's sheet") from None
        said.append("the maker's table holds for the temperature and load at hand")
    elif given["chemistry"] in LEAD_ACID:
        found = _rested(given, voltage)
        said.append("two published tables for rested lead-acid; they differ by up to 0.15 V")
    else:
        message = f"the voltage of {given['chemistry']} says nothing about its charge by itself"
        raise InputError("table", message, "give the maker's table: `table: 26.2 V: 80 %`, a point each time")
    text = (
        f"{about(found.low, 2)} %"
        if found.low == found.high
        else f"{about(found.low, 2)} to {about(found.high, 2)} %"
    )
    return [Line("state of charge", text, None, found.low, found.high, "%", main=True)]


def _rested(given: Mapping[str, Any], voltage: float) -> Charge:
    rested = given.get("rested")
    if rested is None or rested.base_low is None or rested.base_low < REST:
        message = "the voltage of lead-acid says something only after hours of rest"
        raise InputError(
            "rested", message, "let it stand for 4 h without charge or load, and say so: `rested: 4 h`"
        )
    return lead_acid_charge(voltage, given.get("cells", 6))


def _point(text: str) -> tuple[float, float]:
    match = _POINT.fullmatch(text)
    volts = _part("table", match and match["voltage"], "voltage", text, "26.2 V: 80 %")
    share = _part("table", match and match["percent"], "ratio", text, "26.2 V: 80 %")
    if share > 1:
        raise InputError("table", f"`{text[:40]}`: more than 100 %", "look at the table")
    return volts, share * 100


def _part(name: str, text: str | None, dimension: str, whole: str, example: str) -> float:
    try:
        quantity = parse_quantity(text or "")
    except QuantityError as trouble:
        raise InputError(name, f"`{whole[:40]}`: {trouble.message}", f"write `{example}`") from None
    if quantity.dimension != dimension or quantity.base_nominal is None or quantity.base_nominal < 0:
        raise InputError(name, f"`{whole[:40]}`: a {dimension} is asked for", f"write `{example}`")
    return float(quantity.base_nominal)


def _capacity(given: Mapping[str, Any], said: list[str]) -> float:
    capacity = _above_zero(given, "capacity") / 3600
    if "temperature" not in given:
        said.append("the battery is new and at about 25 °C")
        return capacity
    if "slope" not in given:
        raise InputError(
            "slope", "`slope` is missing", "say what it loses for each kelvin, from the maker, such as `0.8`"
        )
    slope = float(given["slope"])
    celsius = float(given["temperature"].base_nominal or 0) - 273.15
    if not 0 <= slope <= 5 or not -60 <= celsius <= 80:
        raise InputError(
            "slope", "a slope of 0 to 5 % a kelvin and −60 to 80 °C can be worked with", "look at the numbers"
        )
    return at_temperature(capacity, celsius, slope)


def _runtime(given: Mapping[str, Any], said: list[str]) -> list[Line]:
    if "current" not in given or "capacity" not in given:
        return []
    capacity, current = _capacity(given, said), _above_zero(given, "current")
    if capacity == 0:
        return [Line("lasts", "no time: too cold", 0.0, unit="h", main=True)]
    rated = _above_zero(given, "rated") / 3600 if "rated" in given else 20.0
    if "rated" not in given:
        said.append("the capacity is rated over 20 h")
    if "exponent" in given:
        exponent = float(given["exponent"])
        if not 1 <= exponent <= 2:
            raise InputError(
                "exponent",
                f"Peukert's exponent lies between 1 and 2, not at {exponent:g}",
                "take the maker's",
            )
        hours = peukert_hours(capacity, rated, current, exponent)
        return [Line("lasts", f"{at_most(hours, 3)} h", hours, unit="h", main=True)]
    if given["chemistry"] not in LEAD_ACID:
        hours = capacity / current
        said.append("its capacity does not shrink at this current")
        return [Line("lasts", f"{at_most(hours, 3)} h at the most", hours, unit="h", main=True)]
    ends = sorted(
        peukert_hours(capacity, rated, current, k) for k in EXPONENTS[LEAD_ACID[given["chemistry"]]]
    )
    said.append("no exponent was given: published ones for this build are taken, from and to")
    return [
        Line(
            "lasts",
            f"{at_most(ends[0], 2)} to {at_most(ends[1], 2)} h",
            None,
            ends[0],
            ends[1],
            "h",
            main=True,
        )
    ]


def _flat(given: Mapping[str, Any], said: list[str]) -> list[Line]:
    if "use" not in given:
        return []
    if "capacity" not in given:
        raise InputError(
            "capacity", "`capacity` is missing", "give the battery's rated capacity, such as `12 Ah`"
        )
    day = [_use(text) for text in given["use"]]
    try:
        drawn = ampere_hours_a_day(day)
        charged = float(given["charged"].base_nominal or 0) if "charged" in given else 1.0
        days = days_until_flat(_capacity(given, said), drawn, charged)
    except ValueError as trouble:
        raise InputError(
            "use", str(trouble), "write `standby: 0.08 A, 22 h`, each part of the day once"
        ) from None
    said.append("nothing charges it, and its voltage cut-off is at its rated capacity")
    return [
        Line("drawn a day", f"{about(drawn)} Ah", drawn, unit="Ah"),
        Line("flat after", f"{at_most(days, 2)} days of use without charge", days, unit="days", main=True),
    ]


def _use(text: str) -> Use:
    match = _USE.fullmatch(text)
    example = "standby: 0.08 A, 22 h"
    current = _part("use", match and match["current"], "current", text, example)
    seconds = _part("use", match and match["hours"], "time", text, example)
    return Use(match["name"] if match else "", current, seconds / 3600)


def _sag(given: Mapping[str, Any]) -> list[Line]:
    if not {"resistance", "current", "voltage"} <= given.keys():
        return []
    left = sag(_above_zero(given, "voltage"), _above_zero(given, "current"), _above_zero(given, "resistance"))
    return [Line("under load", f"{at_most(left, 3)} V", left, unit="V")]


def _recharge(given: Mapping[str, Any]) -> list[Line]:
    if "charge-current" not in given:
        return []
    if "acceptance" not in given or "capacity" not in given:
        missing = "acceptance" if "acceptance" not in given else "capacity"
        raise InputError(
            missing, f"`{missing}` is missing", "the time to charge depends on it; take the maker's figure"
        )
    charged = float(given["charged"].base_nominal or 0) if "charged" in given else 0.0
    missing_ah = _above_zero(given, "capacity") / 3600 * max(0.0, 1 - charged)
    try:
        hours = recharge_hours(
            missing_ah, _above_zero(given, "charge-current"), float(given["acceptance"]) / 100
        )
    except ValueError as trouble:
        raise InputError("acceptance", str(trouble), "such as `85`") from None
    return [Line("charged again after", f"{at_least(hours, 2)} h at least", hours, unit="h")]


CALCULATOR = Calculator(
    "battery", "what a battery's voltage says, how long it lasts, when it goes flat", INPUTS, work
)
