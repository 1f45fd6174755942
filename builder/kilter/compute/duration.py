"""A time as people write it, in seconds."""

from __future__ import annotations

import re
from functools import lru_cache
from math import ceil

SECONDS = {
    "s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1,
    "min": 60, "mins": 60, "minute": 60, "minutes": 60,
    "h": 3600, "hr": 3600, "hrs": 3600, "hour": 3600, "hours": 3600,
    "d": 86400, "day": 86400, "days": 86400,
}  # fmt: skip
"""Seconds in each unit of time (SI brochure, table 8)."""

LONGEST = 366 * 86400
"""No wait of a procedure is longer than a year; more is a slip of the pen."""

_NUMBER = r"(\d+(?:[.,]\d+)?)"
_TIME = re.compile(
    rf"^(?:≥|>=|at least)?\s*{_NUMBER}\s*([a-z]*)\s*(?:(?:[-–—]|to)\s*{_NUMBER}\s*([a-z]+))?\s*$"
)
_MIXED = re.compile(rf"^(?:≥|>=|at least)?\s*{_NUMBER}\s*([a-z]+)\s+{_NUMBER}\s*([a-z]+)\s*$")


def seconds(text: str) -> int | None:
    """Whole seconds of `5 min`, `1.5 h`, `1 h 30 min`, `5–7 min` or `≥ 5 min`; None if it is no time.

    A range counts its lower end: nobody has surely waited longer. Parts of a second are cut off,
    so the result is never longer than what was written. Zero and more than a year are no time.
    """
    found = bounds(text)
    return None if found is None else found[0]


@lru_cache(maxsize=4096)
def bounds(text: str) -> tuple[int, int] | None:
    """Shortest and longest time in whole seconds, the shortest cut down, the longest rounded up.

    `≥ 5 min` counts as written at both ends: how much longer it takes is not said.
    """
    words = " ".join(text.replace("\u00a0", " ").casefold().split())
    found = _mixed(words) or _simple(words)
    if found is None or not 1 <= found[0] <= found[1] <= LONGEST:
        return None
    return int(found[0] + 1e-9), ceil(found[1] - 1e-9)


def _simple(words: str) -> tuple[float, float] | None:
    match = _TIME.match(words)
    if not match:
        return None
    low, unit, high, high_unit = match.groups()
    unit = unit or high_unit or ""
    if unit not in SECONDS or (high is not None and high_unit not in SECONDS):
        return None
    least = _value(low) * SECONDS[unit]
    return least, least if high is None else _value(high) * SECONDS[high_unit]


def _mixed(words: str) -> tuple[float, float] | None:
    match = _MIXED.match(words)
    if not match:
        return None
    first, big, second, small = match.groups()
    if big not in SECONDS or small not in SECONDS or SECONDS[big] <= SECONDS[small]:
        return None
    found = _value(first) * SECONDS[big] + _value(second) * SECONDS[small]
    return found, found


def _value(text: str) -> float:
    return float(text.replace(",", "."))
