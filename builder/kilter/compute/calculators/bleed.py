"""How long a capacitor has to drain before its terminals may be touched."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict, direct
from kilter.compute.rounding import about, at_least
from kilter.compute.stored_energy import bleed_time, capacitor_energy, voltage_after
from kilter.compute.value import Quantity

TOUCH = 60.0
"""Volt d.c.: accessible limit of IEC 60601-1, 8.4.2 c)."""
INPUTS = (
    Input(
        "capacitance",
        "the capacitance with its tolerance",
        "quantity",
        ("capacitance",),
        "470 µF ± 20 %",
        needed=True,
    ),
    Input(
        "resistance",
        "the bleeding resistor with its tolerance",
        "quantity",
        ("resistance",),
        "10 kΩ ± 5 %",
        needed=True,
    ),
    Input("from", "the highest voltage it can be charged to", "quantity", ("voltage",), "400 V", needed=True),
    Input(
        "to",
        "the voltage that is taken for safe (60 V d.c. where nothing is said)",
        "quantity",
        ("voltage",),
        "50 V",
    ),
    Input("factor", "how many times longer the maker, or the shop, waits", "number", example="2"),
    Input("wait", "the wait that the step gives", "quantity", ("time",), "5 min"),
)


def work(given: Mapping[str, Any]) -> Result:
    """The least wait, from the worst of the tolerances; raises InputError."""
    direct(given, "from", "to")
    c, r = _most(given, "capacitance"), _most(given, "resistance")
    start = _most(given, "from")
    end = min(start, _safe(given))
    factor = float(given.get("factor", Decimal(1)))
    if factor < 1:
        raise InputError("factor", "a factor below 1 would shorten the wait", "write 1 or more")
    least = bleed_time(c, r, start, end) * factor
    lines = [
        Line("wait at least", _time(least), least, unit="s", main=True),
        Line(
            "from",
            f"{about(start)} V, {about(capacitor_energy(c, start))} J",
            capacitor_energy(c, start),
            unit="J",
        ),
        Line(
            "to",
            f"{about(end)} V, {about(capacitor_energy(c, end))} J left",
            capacitor_energy(c, end),
            unit="J",
        ),
        Line("time constant", f"{about(c * r)} s", c * r, unit="s"),
    ]
    verdict, shown = _judged(given.get("wait"), least, (c, r, start))
    return Result(
        lines=(*lines, *shown),
        formula="t = R·C·ln(U₀/U) · factor, with R, C and U₀ at their highest; E = ½·C·U²",
        source="OpenStax, University Physics 2, RC circuits; 60 V d.c.: IEC 60601-1, 8.4.2 c)",
        assumptions=_assumptions(given),
        cautions=(
            "a resistor that has failed open drains nothing: prove zero with a meter after the wait, every time",
            "a capacitor can charge itself up again from within: keep it short-circuited while you work",
        ),
        verdict=verdict,
        drawing={
            "kind": "discharge", "tau": c * r, "start": start, "end": end, "least": least,
            "wait": None if given.get("wait") is None else _least_wait(given["wait"]),
        },
    )  # fmt: skip


def _most(given: Mapping[str, Any], name: str) -> float:
    high = given[name].base_high
    if high is None or high <= 0:
        raise InputError(
            name,
            f"`{given[name].text}` has no upper end above zero",
            "write a value, such as `470 µF ± 20 %`",
        )
    return float(high)


def _safe(given: Mapping[str, Any]) -> float:
    """The voltage to drain to; of a tolerance the lower end, which takes longest to reach."""
    if "to" not in given:
        return TOUCH
    wanted: Quantity = given["to"]
    if wanted.has_tolerance and wanted.base_low is not None and wanted.base_low > 0:
        return float(wanted.base_low)
    return _most(given, "to")


def _least_wait(wait: Quantity) -> float:
    if wait.base_low is None:
        raise InputError("wait", f"`{wait.text}` says no least time", "write the time, such as `5 min`")
    return float(wait.base_low)


def _judged(
    wait: Quantity | None, least: float, chain: tuple[float, float, float]
) -> tuple[Verdict, list[Line]]:
    if wait is None:
        return "", []
    seconds = _least_wait(wait)
    left = voltage_after(*chain, seconds)
    said = "long enough" if seconds >= least else "too short"
    return ("holds" if seconds >= least else "fails"), [
        Line("the step's wait", said, seconds, unit="s", main=True),
        Line("left after it", f"{at_least(left, 3)} V", left, unit="V"),
    ]


def _time(seconds: float) -> str:
    if seconds < 120:
        return f"{at_least(seconds, 2)} s"
    return f"{at_least(seconds / 60, 2)} min"


def _assumptions(given: Mapping[str, Any]) -> tuple[str, ...]:
    said = []
    for name, words in (("capacitance", "capacitor"), ("resistance", "resistor")):
        if given[name].form == "plain":
            said.append(f"the {words} is exactly as marked: no tolerance was given")
    if "to" not in given:
        said.append("60 V d.c. is taken for safe to touch")
    if "factor" not in given:
        said.append("the maker asks for no longer wait")
    return tuple(said)


CALCULATOR = Calculator("bleed", "how long a capacitor has to drain", INPUTS, work)
