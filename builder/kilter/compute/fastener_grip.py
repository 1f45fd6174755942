"""What holds the screw: tapped metal, a nut, plastic or an insert, as lines of an answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from kilter.compute.calculation import InputError, Line
from kilter.compute.fastener_engagement import least_engagement, strip_load
from kilter.compute.fastener_inputs import least, positive
from kilter.compute.fastener_judge import force_text
from kilter.compute.fastener_lines import Joint
from kilter.compute.rounding import at_least

GRIPS = ("nut", "metal", "plastic", "insert")
_ASK_MAKER = "{}: proof of the screw says nothing about it; ask its maker for the torque, or give `pull-out`"
_ASK_SHEAR = (
    "tapped metal: give `shear` (its shear strength) and `engagement`, or its thread is not looked at"
)


@dataclass(frozen=True, slots=True)
class Grip:
    """What was found about the grip."""

    lines: tuple[Line, ...] = ()
    cautions: tuple[str, ...] = ()
    fails: bool = False
    unknown: bool = False
    """Whether what it bears is not known, so that proof of the screw alone says little."""


def grip_of(given: Mapping[str, Any], joint: Joint | None, torque: tuple[float, float] | None) -> Grip:
    """Engagement, strip load and pull-out against the greatest preload; raises InputError."""
    asked = [n for n in ("grip", "shear", "engagement", "pull-out") if n in given]
    if not asked:
        return Grip()
    if joint is None:
        raise InputError("fastener", f"`{asked[0]}` without `fastener`", "say which screw, such as `M8 8.8`")
    most = joint.preload(torque)[1] if torque else None
    kind = given.get("grip", "")
    if kind in ("plastic", "insert") or "pull-out" in given:
        return _pulled(given, kind or "insert", most, joint)
    return _tapped(given, kind, joint, most)


def _pulled(given: Mapping[str, Any], kind: str, most: float | None, joint: Joint) -> Grip:
    for name in ("shear", "engagement"):
        if name in given:
            help = "leave it out and give `pull-out`, the maker's value"
            raise InputError(name, f"`{name}` is not used for {kind}", help)
    bears = least(given, "pull-out")
    if bears is None:
        return Grip(cautions=(_ASK_MAKER.format(kind),), unknown=True)
    if most is None:
        return Grip()
    fails = most > bears
    said = f"preload up to {force_text(most, joint.force_unit, bears)}, pulled out at {force_text(bears, joint.force_unit, most)}"
    return Grip((Line(kind, said, main=True),), (), fails)


def _tapped(given: Mapping[str, Any], kind: str, joint: Joint, most: float | None) -> Grip:
    shear = least(given, "shear")
    engaged = positive(given, "engagement")
    if shear is None:
        if kind == "nut" and engaged is None:
            return Grip()
        return Grip(cautions=(_ASK_SHEAR,), unknown=True)
    one = joint.fastener
    lines: list[Line] = []
    fails = False
    if one.strength is not None:
        lines.append(_least(joint, shear))
    if engaged is not None:
        bears = strip_load(one.thread, engaged, shear, one.strength)
        fails = most is not None and most > bears
        against = f", preload up to {force_text(most, joint.force_unit, bears)}" if most is not None else ""
        text = f"strips at {force_text(bears, joint.force_unit, most)}{against}"
        lines.append(Line("thread", text, bears, unit="N", main=True))
    return Grip(tuple(lines), (), fails)


def _least(joint: Joint, shear: float) -> Line:
    """Rounded up: a shorter thread strips before the screw breaks."""
    strength = joint.fastener.strength
    assert strength is not None
    metres = least_engagement(joint.fastener.thread, strength, shear)
    ratio = at_least(metres / joint.fastener.thread.diameter, 2)
    if joint.fastener.thread.inch:
        return Line(
            "least engagement",
            f"{at_least(metres / 0.0254)} in ({ratio} diameters)",
            metres / 0.0254,
            unit="in",
        )
    return Line(
        "least engagement", f"{at_least(metres * 1e3)} mm ({ratio} diameters)", metres * 1e3, unit="mm"
    )
