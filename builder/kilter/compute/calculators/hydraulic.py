"""Pressure, force and creep of a cylinder."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import Calculator, Input, InputError, Line, Result, Verdict, lower
from kilter.compute.hydraulics import creep, force, piston_area, pressure, weight
from kilter.compute.rounding import about, at_least, outside
from kilter.compute.stored_energy import raised_energy
from kilter.compute.value import Quantity

INPUTS = (
    Input("bore", "the cylinder's bore", "quantity", ("length",), "40 mm", needed=True),
    Input("rod", "the rod, if the pressure is on its side", "quantity", ("length",), "20 mm"),
    Input("pressure", "the pressure", "quantity", ("pressure",), "100 bar"),
    Input("force", "the force on the rod", "quantity", ("force",), "12 kN"),
    Input("mass", "or the mass that it holds", "quantity", ("mass",), "250 kg"),
    Input("height", "how high that mass is raised", "quantity", ("length",), "0.6 m"),
    Input("sunk", "how far it sank", "quantity", ("length",), "2 mm"),
    Input("time", "in this time", "quantity", ("time",), "10 min"),
    Input("limit", "how fast it may sink, from the maker", "quantity", ("speed",), "≤ 0.5 mm/min"),
)


def work(given: Mapping[str, Any]) -> Result:
    """Whatever the inputs allow; raises InputError."""
    least, most = _areas(given)
    verdict, sinking = _creep(given, most)
    shown = (
        f"{about(most * 1e6)} mm²"
        if least == most
        else f"{outside(Fraction(least * 1e6), Fraction(most * 1e6))} mm²"
    )
    lines = [
        Line("area", shown, most * 1e6, least * 1e6, most * 1e6, "mm²"),
        *_force(given, most), *_pressure(given, least), *_height(given), *sinking,
    ]  # fmt: skip
    return Result(
        lines=tuple(lines),
        formula="A = π/4·(bore² − rod²); F = p·A; p = F/A; creep = distance / time; E = m·g·h",
        source="OpenStax, University Physics 1, Pascal's principle",
        assumptions=("friction of seals and the weight of the mechanism are left out",),
        cautions=(
            "a raised section falls when a hose or valve lets go: prop it before anybody reaches under",
            "an accumulator stays charged after the pump is off: vent or isolate it, and prove zero with a gauge",
            "oil under pressure goes through skin: look for leaks with card or mirror, never by hand",
        ),
        verdict=verdict,
    )


def _areas(given: Mapping[str, Any]) -> tuple[float, float]:
    """The least and the greatest area: the least needs the highest pressure, the greatest pushes and leaks most."""
    bore, rod = (_size(given, "bore"), _size(given, "rod") if "rod" in given else 0.0)
    one_sided = given["bore"].base_low is None and not {"force", "mass"} & given.keys()
    thin = bore if one_sided else lower(given, "bore")
    slim = float(given["rod"].base_low or 0) if "rod" in given else 0.0
    try:
        return piston_area(thin, rod), piston_area(bore, slim)
    except ValueError as trouble:
        raise InputError("rod", str(trouble), "look at the numbers") from None


def _size(given: Mapping[str, Any], name: str) -> float:
    quantity: Quantity = given[name]
    high = quantity.base_high
    if high is None or high <= 0:
        raise InputError(name, f"`{quantity.text}` has no upper end above zero", "look at the number")
    return float(high)


def _force(given: Mapping[str, Any], area: float) -> list[Line]:
    if "pressure" not in given:
        return []
    newton = force(_size(given, "pressure"), area)
    return [
        Line(
            "force",
            f"{at_least(newton, 4)} N, the weight of {at_least(newton / weight(1), 3)} kg",
            newton,
            unit="N",
            main=True,
        )
    ]


def _pressure(given: Mapping[str, Any], area: float) -> list[Line]:
    if "force" in given and "mass" in given:
        raise InputError("mass", "`force` and `mass` together", "give one of them")
    if "force" not in given and "mass" not in given:
        return []
    newton = _size(given, "force") if "force" in given else weight(_size(given, "mass"))
    bar = pressure(newton, area) / 1e5
    return [Line("pressure under it", f"{at_least(bar, 3)} bar", bar, unit="bar", main=True)]


def _height(given: Mapping[str, Any]) -> list[Line]:
    if "height" not in given:
        return []
    if "mass" not in given:
        raise InputError("mass", "`mass` is missing", "the energy of a raised section is that of its mass")
    joule = raised_energy(_size(given, "mass"), _size(given, "height"))
    return [Line("energy stored", f"{at_least(joule, 3)} J", joule, unit="J")]


def _creep(given: Mapping[str, Any], area: float) -> tuple[Verdict, list[Line]]:
    if "sunk" not in given and "time" not in given:
        if "limit" in given:
            raise InputError("sunk", "`sunk` is missing", "give how far it sank, and in what time")
        return "", []
    for name in ("sunk", "time"):
        if name not in given:
            raise InputError(name, f"`{name}` is missing", "creep is a distance in a time")
    low = given["time"].base_low
    if low is None or low <= 0:
        raise InputError("time", "a time above zero is needed", "such as `10 min`")
    speed = creep(_size(given, "sunk"), float(low))
    lines = [
        Line("creep", f"{at_least(speed * 60_000, 3)} mm/min", speed * 60_000, unit="mm/min", main=True),
        Line("leaking", f"{about(speed * area * 60e6, 2)} mL/min", speed * area * 60e6, unit="mL/min"),
    ]
    limit: Quantity | None = given.get("limit")
    if limit is None:
        return "", lines
    if limit.base_high is None:
        raise InputError("limit", f"`{limit.text}` is no upper limit", "write one such as `≤ 0.5 mm/min`")
    return ("holds" if speed <= float(limit.base_high) else "fails"), lines


CALCULATOR = Calculator("hydraulic", "pressure, force and creep of a cylinder", INPUTS, work)
