"""Whether a fuse carries its load and its inrush, and what opens it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict, lower
from kilter.compute.fuse import SHAPES, least_rating, opens_after, pulse, pulse_share
from kilter.compute.rounding import about, at_least
from kilter.compute.value import Quantity

ADIABATIC = 0.010
"""Seconds up to which no heat gets away from a fuse's wire: makers' data sheets."""
INPUTS = (
    Input("rating", "the fuse's rated current", "quantity", ("current",), "3.15 A", needed=True),
    Input("load", "the current it carries for good", "quantity", ("current",), "1.8 A"),
    Input("derating", "the share of its rating left in the warmth, in percent", "number", example="90"),
    Input("melting", "its melting I²t, from the maker", "quantity", ("fusing",), "18 A²s"),
    Input("peak", "the peak of the inrush current", "quantity", ("current",), "25 A"),
    Input(
        "duration", "how long the inrush lasts (of a decay its time constant)", "quantity", ("time",), "5 ms"
    ),
    Input("shape", "the shape of the inrush", "choice", choices=tuple(SHAPES), example="half-sine"),
    Input("pulses", "how often it is switched on in its life", "count", example="10000"),
    Input("fault", "the current of a short circuit", "quantity", ("current",), "200 A"),
)


def work(given: Mapping[str, Any]) -> Result:
    """Load, inrush and short circuit, as far as the inputs go; raises InputError."""
    said: list[str] = []
    checks = [_load(given, said), _inrush(given, said)]
    lines = [line for _, found in checks for line in found] + _fault(given)
    if not lines:
        raise InputError(
            "load", "nothing to judge", "give `load`, or `peak` with `duration` and `melting`, or `fault`"
        )
    judged = [ok for ok, found in checks if found]
    verdict: Verdict = "" if not judged else "holds" if all(judged) else "fails"
    return Result(
        lines=tuple(lines),
        formula="lasting: load ≤ 0.75 · rating; inrush: shape · peak² · time ≤ share · melting I²t",
        source="fuse makers' application notes: pulse shapes and endurance; 0.75 at 25 °C is common practice",
        assumptions=tuple(said),
        cautions=("find out what opened a fuse before a new one goes in, and never fit a larger one",),
        verdict=verdict,
    )


def _size(given: Mapping[str, Any], name: str) -> float:
    quantity: Quantity = given[name]
    high = quantity.base_high
    if high is None or high <= 0:
        raise InputError(name, f"`{quantity.text}` has no upper end above zero", "look at the number")
    return float(high)


def _load(given: Mapping[str, Any], said: list[str]) -> tuple[bool, list[Line]]:
    rating = lower(given, "rating")
    if "load" not in given:
        return True, []
    share = float(given.get("derating", 100)) / 100
    if not 0 < share <= 1:
        raise InputError(
            "derating", "what is left in the warmth lies above 0 and up to 100 %", "such as `90`"
        )
    if "derating" not in given:
        said.append("the fuse is at about 25 °C")
    least = least_rating(_size(given, "load"), share)
    words = "enough" if rating >= least else "too small: it ages and opens without a fault"
    return rating >= least, [
        Line("rating for the load", f"{at_least(least)} A at the least", least, unit="A"),
        Line("this fuse", words, rating, unit="A", main=True),
    ]


def _inrush(given: Mapping[str, Any], said: list[str]) -> tuple[bool, list[Line]]:
    if "peak" not in given:
        return True, []
    for name in ("duration", "melting"):
        if name not in given:
            raise InputError(
                name, f"`{name}` is missing", "inrush is judged by peak, duration and the fuse's melting I²t"
            )
    shape = given.get("shape", "rectangle")
    if "shape" not in given:
        said.append("the inrush is a rectangle, the worst shape")
    pulses = given.get("pulses", 100_000)
    if "pulses" not in given:
        said.append("it is switched on 100,000 times")
    try:
        share = pulse_share(pulses)
    except ValueError as trouble:
        raise InputError("pulses", str(trouble), "ask the maker") from None
    one, allowed = (
        pulse(_size(given, "peak"), _size(given, "duration"), shape),
        share * lower(given, "melting"),
    )
    words = "kept" if one <= allowed else "too much: the fuse tires and opens without a fault"
    return one <= allowed, [
        Line("inrush", f"{about(one)} A²s", one, unit="A²s"),
        Line(
            "allowed each time",
            f"{about(allowed)} A²s, {about(share * 100, 2)} % of melting",
            allowed,
            unit="A²s",
        ),
        Line("endurance", words, main=True),
    ]


def _fault(given: Mapping[str, Any]) -> list[Line]:
    if "fault" not in given:
        return []
    if "melting" not in given:
        raise InputError(
            "melting", "`melting` is missing", "the time to open depends on it; take the maker's I²t"
        )
    seconds = opens_after(_size(given, "melting"), lower(given, "fault"))
    if seconds > ADIABATIC:
        return [Line("opens after", "read it from the maker's curve: at this current heat gets away", None)]
    return [Line("opens after", f"{about(seconds * 1000, 2)} ms, arcing not counted", seconds, unit="s")]


CALCULATOR = Calculator("fuse", "whether a fuse carries its load and inrush, and what opens it", INPUTS, work)
