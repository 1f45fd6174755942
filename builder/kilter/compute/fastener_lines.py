"""What a torque and a fastener give, as lines of an answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from kilter.compute.calculation import InputError, Line
from kilter.compute.fastener import Fastener, FastenerError, parse_fastener
from kilter.compute.fastener_friction import ASSUMED, Friction, impossible, parse_friction, parse_pair
from kilter.compute.fastener_inputs import positive, span
from kilter.compute.fastener_judge import force_unit
from kilter.compute.fastener_preload import Drag, combined_stress, preload, torque_for
from kilter.compute.rounding import about, at_least, at_most
from kilter.compute.units import UNITS, Unit
from kilter.compute.value import Quantity

SHARES = (75, 90)
"""Percent of proof up to which a joint is commonly tightened: 75 reused, 90 permanent (Shigley 8-9)."""


@dataclass(frozen=True, slots=True)
class Joint:
    """A fastener with its friction, in base units."""

    fastener: Fastener
    friction: Friction
    slick: Drag
    rough: Drag
    prevailing: tuple[float, float]
    torque_unit: Unit
    force_unit: Unit

    @property
    def proof(self) -> float | None:
        """Proof load, N."""
        known = self.fastener.strength
        return None if known is None else known.proof * self.fastener.thread.stress_area

    def preload(self, torque: tuple[float, float]) -> tuple[float, float]:
        """Least and greatest preload, N."""
        least = preload(torque[0], self.rough, self.prevailing[1])
        return least, preload(torque[1], self.slick, self.prevailing[0])


def joint(given: Mapping[str, Any]) -> Joint | None:
    """The joint that the inputs describe, None without a fastener; raises InputError."""
    if "fastener" not in given:
        return None
    try:
        one = parse_fastener(given["fastener"])
    except FastenerError as no:
        raise InputError("fastener", no.message, no.help, no.start, no.end) from None
    friction, name = _friction(given)
    why = impossible(friction, one.thread)
    if why:
        raise InputError(name, why, "look at the number; zinc is near K 0.2")
    bearing = positive(given, "bearing")
    if bearing is not None and not one.thread.diameter < bearing < 4 * one.thread.diameter:
        raise InputError(
            "bearing", f"the face under the head is no {given['bearing'].text}", "such as 1.3 × diameter"
        )
    try:
        slick, rough = friction.drags(one.thread, bearing)
    except ValueError:
        raise InputError(
            name, f"{friction.text} is less than the thread's lead alone takes", "such as `K 0.2`"
        ) from None
    torque: Quantity | None = given.get("torque")
    unit = torque.unit if torque else UNITS["lbf·in" if one.thread.inch else "N·m"]
    held = span(given, "prevailing") or (0.0, 0.0)
    return Joint(one, friction, slick, rough, held, unit, force_unit(unit))


def _friction(given: Mapping[str, Any]) -> tuple[Friction, str]:
    name = "friction"
    try:
        if "thread-friction" in given or "head-friction" in given:
            if "friction" in given:
                raise InputError("friction", "friction is given twice", "give `friction`, or thread and head")
            for name, other in (("head-friction", "thread-friction"), ("thread-friction", "head-friction")):
                if name not in given:
                    raise InputError(name, f"`{name}` is missing beside `{other}`", "such as `0.12`")
            return parse_pair(given["thread-friction"], given["head-friction"]), "thread-friction"
        return (parse_friction(given["friction"]) if "friction" in given else ASSUMED), name
    except FastenerError as no:
        raise InputError(name, no.message, no.help, no.start, no.end) from None


def force_line(joint: Joint, name: str, ends: tuple[float, float], main: bool = False) -> Line:
    """Forces from least to greatest, rounded outward, both ends being worst cases; a single one rounded down."""
    by = float(joint.force_unit.factor)
    low, high = ends[0] / by, ends[1] / by
    kilo = joint.force_unit.symbol == "N" and high >= 1000
    scale = 1000 if kilo else 1
    shown = at_most(low / scale) if ends[0] == ends[1] else spread_text(low / scale, high / scale)
    unit = joint.force_unit.symbol
    return Line(name, f"{shown} {'kN' if kilo else unit}", None, low, high, unit, main)


def spread_text(low: float, high: float) -> str:
    """A range rounded outward to three digits."""
    return f"{at_most(low)} to {at_least(high)}"


def torque_line(joint: Joint, name: str, value: float, up: bool, main: bool = False) -> Line:
    """A torque rounded up (a least one) or down (one that must not be passed)."""
    shown = float(joint.torque_unit.from_base(Fraction(value)))
    text = f"{'at least' if up else 'at most'} {(at_least if up else at_most)(shown)} {joint.torque_unit}"
    return Line(name, text, shown, unit=str(joint.torque_unit), main=main)


def preload_lines(joint: Joint, torque: tuple[float, float]) -> list[Line]:
    """Preload, its share of proof, and how far tension and torsion use the yield stress."""
    ends = joint.preload(torque)
    lines = [force_line(joint, "preload", ends, main=True)]
    known, proof = joint.fastener.strength, joint.proof
    if known is None or proof is None:
        return lines
    low, high = (100 * f / proof for f in ends)
    share = about(low) if low == high else spread_text(low, high)
    lines.append(Line("of proof", f"{share} %", None, low, high, "%", main=True))
    used = 100 * greatest_stress(joint, torque[1]) / known.strain
    lines.append(Line("with torsion", f"up to {at_least(used)} % of the yield stress", used, unit="%"))
    return lines


def greatest_stress(joint: Joint, torque: float) -> float:
    """The greatest that tension and torsion come to, Pa: slick all over, or slick under the head alone."""
    turned = Drag(joint.rough.thread, joint.slick.whole - joint.slick.thread + joint.rough.thread)
    return max(
        combined_stress(
            joint.fastener.thread, preload(torque, d, joint.prevailing[0]), d, joint.prevailing[1]
        )
        for d in (joint.slick, turned)
    )


def limit_lines(joint: Joint) -> list[Line]:
    """Torques that must not be passed for shares of proof, at the lowest friction."""
    proof = joint.proof
    if proof is None:
        return []
    return [
        torque_line(
            joint,
            f"torque for {share} % of proof",
            torque_for(proof * share / 100, joint.slick, joint.prevailing[0]),
            up=False,
            main=share == SHARES[0],
        )
        for share in SHARES
    ]


def wanted_lines(joint: Joint, wanted: float) -> list[Line]:
    """The torque that surely gives a preload, and what it gives at the lowest friction."""
    torque = torque_for(wanted, joint.rough, joint.prevailing[1])
    most = preload(torque, joint.slick, joint.prevailing[0])
    return [
        torque_line(joint, "torque for the preload", torque, up=True, main=True),
        force_line(joint, "preload at that torque", (wanted, most)),
    ]
