"""What a tightening torque does to its fastener, and whether the tool can prove it: facts, no findings.

For checks of what is written. Limits are judged at the worst the text allows: the highest torque of the tolerance
against proof, the lowest against a least clamp force.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from kilter.compute.fastener import Fastener, parse_fastener
from kilter.compute.fastener_friction import ASSUMED, HIGHEST, Friction, impossible
from kilter.compute.fastener_preload import Drag, preload, short_form
from kilter.compute.fastener_tables import strongest
from kilter.compute.rounding import about
from kilter.compute.torque_tool import Tool, judge
from kilter.compute.units import UNITS, Unit
from kilter.compute.value import Quantity

FactKind = Literal[
    "above-proof", "may-exceed-proof", "below-hold", "tolerance-tighter-than-tool", "tool-out-of-range"
]


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that is so, with its numbers."""

    kind: FactKind
    text: str
    """Such as `M5 8.8 at 12 N·m: preload 8.6 kN > 8.2 kN proof, even with K 0.25`."""
    sure: bool
    """False where it hangs on a friction or an accuracy that nobody gave."""


def judge_torque(
    fastener: str | Fastener | None,
    torque: Quantity,
    friction: Friction | None = None,
    *,
    prevailing: Quantity | None = None,
    least_clamp: Quantity | None = None,
    tool: Tool | None = None,
    lever: float = 1.0,
    drags: tuple[Drag, Drag] | None = None,
) -> list[Fact]:
    """Facts about a torque; FastenerError for a fastener that can't be read, ValueError for an impossible K.

    `lever` is torque on the screw over torque indicated, see `torque_tool.lever`; `drags` are those of the friction,
    for one who knows the face under the head.
    """
    facts: list[Fact] = []
    if fastener is not None:
        one = parse_fastener(fastener) if isinstance(fastener, str) else fastener
        given = friction or ASSUMED
        slick_and_rough = drags or _drags(one, given)
        facts += _strained(one, torque, given, slick_and_rough, prevailing)
        facts += _holding(one, torque, given, slick_and_rough, prevailing, least_clamp)
    return facts + (list(_proven(torque, tool, lever)) if tool else [])


def ends(value: Quantity | None) -> tuple[float | None, float | None]:
    """Both ends of a value in base units."""
    if value is None:
        return None, None
    low, high = value.base_low, value.base_high
    return None if low is None else float(low), None if high is None else float(high)


def force_unit(torque: Unit) -> Unit:
    """The unit of force beside a unit of torque: lbf beside lbf·in, else N."""
    return UNITS["lbf" if torque.symbol.startswith(("lbf", "ozf")) else "N"]


def force_text(force: float, unit: Unit, beside: float | None = None) -> str:
    """A force of N as text, kN from 1000 N; with the digits that tell it from the one it stands beside."""
    digits = 3
    while beside is not None and digits < 9 and _force(force, unit, digits) == _force(beside, unit, digits):
        digits += 1
    return _force(force, unit, digits)


def _force(force: float, unit: Unit, digits: int) -> str:
    if unit.symbol == "N" and force >= 1000:
        return f"{about(force / 1000, digits)} kN"
    return f"{about(force / float(unit.factor), digits)} {unit}"


def _drags(one: Fastener, friction: Friction) -> tuple[Drag, Drag]:
    why = impossible(friction, one.thread)
    if why:
        raise ValueError(why)
    return friction.drags(one.thread)


def _strained(
    one: Fastener, torque: Quantity, friction: Friction, drags: tuple[Drag, Drag], prevailing: Quantity | None
) -> Iterator[Fact]:
    high = ends(torque)[1]
    if high is None:
        return
    slick, rough = drags
    said = friction.text
    if friction.assumed:
        rough, said = short_form(one.thread, HIGHEST), f"K {HIGHEST:g}"
    known = one.strength or strongest(one.thread)
    proof = known.proof * one.thread.stress_area
    least = preload(high, rough, ends(prevailing)[1] or 0.0)
    most = preload(high, slick, ends(prevailing)[0] or 0.0)
    unit = force_unit(torque.unit)
    name = str(one) if one.strength else f"{one.thread.name}, were it {known.name}"
    if least > proof:
        text = f"{name} at {_torque(high, torque.unit)}: preload {force_text(least, unit, proof)} > {force_text(proof, unit, least)} proof load, even with {said}"
        yield Fact("above-proof", text, True)
    elif most > proof and one.strength:
        text = f"{name} at {_torque(high, torque.unit)}: preload up to {force_text(most, unit, proof)} > {force_text(proof, unit, most)} proof load, with {friction.text}"
        yield Fact("may-exceed-proof", text, not friction.assumed)


def _holding(
    one: Fastener,
    torque: Quantity,
    friction: Friction,
    drags: tuple[Drag, Drag],
    prevailing: Quantity | None,
    clamp: Quantity | None,
) -> Iterator[Fact]:
    low = ends(torque)[0]
    wanted = ends(clamp)[0]
    if low is None or wanted is None:
        return
    slick, rough = drags
    least = preload(low, rough, ends(prevailing)[1] or 0.0)
    if least < wanted:
        unit = force_unit(torque.unit)
        best = preload(ends(torque)[1] or low, slick, ends(prevailing)[0] or 0.0)
        text = f"{one} at {_torque(low, torque.unit)}: preload {force_text(least, unit, wanted)} < {force_text(wanted, unit, least)} wanted, with {friction.text}"
        yield Fact("below-hold", text, not friction.assumed or best < wanted)


def _proven(torque: Quantity, tool: Tool, lever: float) -> Iterator[Fact]:
    if torque.base_low is None or torque.base_high is None:
        return
    by = Fraction(lever)
    low, high = torque.base_low / by, torque.base_high / by
    found = judge(tool, low, high) if low < high else judge(Tool(tool.low, tool.high, Fraction(0)), low, high)
    shown = (
        f"{_torque(low, torque.unit)} to {_torque(high, torque.unit)}"
        if low < high
        else _torque(low, torque.unit)
    )
    if found.ability == "out of range":
        usable = f"{_torque(tool.low, torque.unit)} to {_torque(tool.high, torque.unit)}"
        yield Fact("tool-out-of-range", f"{shown} is asked for, the tool is good from {usable}", True)
    if found.ability == "too wide":
        middle = (low + high) / 2
        half, off = (high - low) / 2, middle * tool.off
        text = f"the tolerance is ±{_torque(half, torque.unit)}, the tool is good to ±{about(tool.off * 100, 2)} %, ±{_torque(off, torque.unit)}"
        yield Fact("tolerance-tighter-than-tool", text, not tool.assumed)


def _torque(value: float | Fraction, unit: Unit) -> str:
    """A torque to three digits without idle zeros."""
    exact = (unit if unit.dimension == "torque" else UNITS["N·m"]).from_base(Fraction(value))
    shown = about(exact)
    return f"{shown.rstrip('0').rstrip('.') if '.' in shown else shown} {unit}"
