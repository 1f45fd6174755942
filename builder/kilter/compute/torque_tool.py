"""Torque tools: what an extension does to the indication, and whether a tool can keep a tolerance.

Permissible deviation: ISO 6789-1, type II class A and B tools: ±4 % of the value when the tool ends above 10 N·m,
±6 % up to 10 N·m. Usable from a fifth of the maximum: common practice, no source (tools are checked from there on).
Extension: the torque on the screw is the pull times its distance from the screw, measured along the wrench.
Units: N·m, m, degrees. Limits are exact fractions.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import cos, radians
from typing import Literal

SMALL = Fraction(10)
USABLE = Fraction(1, 5)


@dataclass(frozen=True, slots=True)
class Tool:
    """A torque wrench or driver."""

    low: Fraction
    """The least torque it may be used for, N·m."""
    high: Fraction
    off: Fraction
    """How far off it may be, as a share of the value."""
    assumed: bool = False
    """Whether `off` is the standard's, not the tool's own."""


def tool(high: Fraction, low: Fraction | None = None, off: Fraction | None = None) -> Tool:
    """A tool by its range, N·m; without its own accuracy, that of the standard."""
    least = max(low or Fraction(0), high * USABLE)
    return Tool(least, high, permitted(high) if off is None else off, off is None)


def permitted(high: Fraction) -> Fraction:
    """What ISO 6789-1 allows a tool of that maximum torque, N·m."""
    return Fraction(6, 100) if high <= SMALL else Fraction(4, 100)


def lever(tool_length: float, extension: float, angle: float = 0.0) -> float:
    """Torque on the screw over the torque indicated: (L + E cos θ)/L; above 1 when the extension points away.

    L from the grip to the wrench's square, E from there to the screw, θ between them: 0 in line, 90 beside it.
    ValueError where the grip would stand over the screw or behind it.
    """
    across = 0.0 if angle in (90, 270) else cos(radians(angle))
    ratio = (tool_length + extension * across) / tool_length
    if ratio <= 0.05:
        raise ValueError("the grip would stand over the screw")
    return ratio


def indicated(torque: float, tool_length: float, extension: float, angle: float = 0.0) -> float:
    """What the wrench has to be set to for a torque on the screw."""
    return torque / lever(tool_length, extension, angle)


Ability = Literal["able", "too wide", "out of range"]


@dataclass(frozen=True, slots=True)
class Judged:
    """Whether a tool keeps a tolerance, and what to set it to."""

    ability: Ability
    low: Fraction
    """Settings from `low` to `high` keep the tolerance even if the tool is off as far as it may be."""
    high: Fraction


def judge(tool: Tool, low: Fraction, high: Fraction) -> Judged:
    """Of a tolerance from `low` to `high`, N·m as the tool indicates.

    Set to S the tool gives S(1 − a) to S(1 + a); that has to lie inside, and S inside the tool's usable range.
    """
    least, most = low / (1 - tool.off), high / (1 + tool.off)
    if least > most:
        outside = high < tool.low or low > tool.high
        return Judged("out of range" if outside else "too wide", least, most)
    first, last = max(least, tool.low), min(most, tool.high)
    return Judged("able", first, last) if first <= last else Judged("out of range", least, most)
