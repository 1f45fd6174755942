"""The numbers of a drawing as they are written: the same as in the answer beside it."""

from __future__ import annotations

from fractions import Fraction

from kilter.compute.rounding import decimals_for, down, inside, outside, up, written


def exact(value: float) -> Fraction:
    """The number that a float was meant as: 7.8, not the nearest that a machine can hold."""
    return Fraction(repr(float(value)))


def inward(low: float, high: float, unit: str) -> str:
    """A range of what is allowed."""
    return f"{inside(exact(low), exact(high))} {unit}"


def outward(low: float, high: float, unit: str) -> str:
    """A range of where something may lie."""
    return f"{outside(exact(low), exact(high))} {unit}"


def plain(value: float, unit: str = "") -> str:
    """A value that somebody wrote, with the digits it was written with."""
    shown = f"{value:.10f}".rstrip("0").rstrip(".") if abs(value) < 1e9 else f"{value:g}"
    return f"{shown} {unit}".strip().replace("-", "−")


def written_range(low: float, high: float, unit: str) -> str:
    """A range that somebody wrote, both ends with the same decimals."""
    ends = [plain(e) for e in (low, high)]
    decimals = max(len(e.partition(".")[2]) for e in ends)
    first, last = (written(exact(float(e.replace("−", "-"))), decimals) for e in ends)
    return f"{first} to {last} {unit}"


def limit(value: float, low: float, high: float, unit: str, upper: bool) -> str:
    """A limit with the decimals that show the range from low to high, never shown wider than it is."""
    decimals = decimals_for(exact(high) - exact(low), 2)
    turned = down if upper else up
    return f"{written(turned(exact(value), decimals), decimals)} {unit}"
