"""Judging a reading with a measuring tool that is itself uncertain.

The guard band is the expanded uncertainty, as ISO 14253-1 has it for proving conformity: a reading passes only if
it stays inside the limits with all of its uncertainty. The probability of a wrong call takes the true value to be
normal about the reading with standard uncertainty U/k (JCGM 106:2012, 7.2, no prior knowledge of the item).
Values are exact fractions of one unit; probabilities are floats.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import erfc, sqrt
from typing import Literal

Verdict = Literal["pass", "too close to call", "fail", "not judged"]


def judge(
    reading: Fraction,
    uncertainty: Fraction | None,
    low: Fraction | None,
    high: Fraction | None,
    low_itself: bool = True,
    high_itself: bool = True,
) -> Verdict:
    """The verdict on a reading: outside a limit is a fail; inside with all of the uncertainty a pass.

    `low_itself` and `high_itself` say whether the limit itself is still allowed (≥ and ≤) or not (> and <). With
    no limit there is nothing to judge. With no uncertainty known the reading is taken as it stands.
    """
    if low is None and high is None:
        return "not judged"
    if not _inside(reading, low, high, low_itself, high_itself):
        return "fail"
    by = uncertainty or Fraction(0)
    ends = (reading - by, reading + by)
    return (
        "pass" if all(_inside(e, low, high, low_itself, high_itself) for e in ends) else "too close to call"
    )


def _inside(
    value: Fraction, low: Fraction | None, high: Fraction | None, low_itself: bool, high_itself: bool
) -> bool:
    above = low is None or value > low or (low_itself and value == low)
    below = high is None or value < high or (high_itself and value == high)
    return above and below


def guarded(
    uncertainty: Fraction, low: Fraction | None, high: Fraction | None
) -> tuple[Fraction | None, Fraction | None]:
    """The limits drawn in by the guard band: a reading inside these passes."""
    return (None if low is None else low + uncertainty), (None if high is None else high - uncertainty)


def chance_of_conformity(
    reading: float, standard_uncertainty: float, low: float | None, high: float | None
) -> float:
    """The probability that the true value lies inside the limits (JCGM 106:2012, 7.4 and 7.5)."""
    if standard_uncertainty == 0:
        inside = (low is None or reading >= low) and (high is None or reading <= high)
        return 1.0 if inside else 0.0
    below = 1.0 if high is None else _phi((high - reading) / standard_uncertainty)
    above = 0.0 if low is None else _phi((low - reading) / standard_uncertainty)
    return max(0.0, below - above)


def _phi(z: float) -> float:
    return erfc(-z / sqrt(2)) / 2


def of_meter(reading: Fraction, percent: Fraction, digits: Fraction, resolution: Fraction) -> Fraction:
    """What a digital meter may be off by, as its maker states it: percent of reading plus digits of resolution."""
    return abs(reading) * percent / 100 + digits * resolution


@dataclass(frozen=True, slots=True)
class Trend:
    """A straight line through readings over time, by least squares."""

    slope: float
    """Unit of the readings a day."""
    level: float
    """On the day of the last reading."""
    slope_error: float | None
    """Standard error of the slope; None for two readings, which any line fits."""


def trend(points: Sequence[tuple[float, float]]) -> Trend:
    """The trend of (day, reading) pairs in any order; raises ValueError for fewer than two different days.

    Ordinary least squares; standard error of the slope as in any textbook of statistics.
    """
    days = [day for day, _ in points]
    if len(set(days)) < 2:
        raise ValueError("readings of two days at least are needed")
    count, last = len(points), max(days)
    mean_day, mean = sum(days) / count, sum(value for _, value in points) / count
    spread = sum((day - mean_day) ** 2 for day in days)
    slope = sum((day - mean_day) * (value - mean) for day, value in points) / spread
    left = sum((value - mean - slope * (day - mean_day)) ** 2 for day, value in points)
    error = None if count == 2 else sqrt(left / (count - 2) / spread)
    return Trend(slope, mean + slope * (last - mean_day), error)


def days_until(found: Trend, low: float | None, high: float | None) -> float | None:
    """Days from the last reading until the line meets a limit; 0 if it is outside already, None if it never does."""
    if (low is not None and found.level < low) or (high is not None and found.level > high):
        return 0.0
    if found.slope > 0 and high is not None:
        return (high - found.level) / found.slope
    if found.slope < 0 and low is not None:
        return (low - found.level) / found.slope
    return None
