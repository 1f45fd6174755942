"""What a fuse carries, and what opens it. SI units, floats."""

from __future__ import annotations

from itertools import pairwise
from math import log10

SHAPES = {"rectangle": 1.0, "half-sine": 1 / 2, "triangle": 1 / 3, "decay": 1 / 2}
"""Share of peak² · time that a current pulse of this shape delivers; of a decay the time is its time constant.

∫i²dt over the shape; as fuse makers print the table.
"""
ENDURANCE = ((1e3, 0.38), (1e4, 0.29), (1e5, 0.22))
"""Number of pulses, and the share of the melting I²t that a pulse may have; as fuse makers print the table."""
CONTINUOUS = 0.75
"""Share of its rating that a fuse is loaded with for good at 25 °C: common practice of makers of miniature fuses."""


def pulse(peak: float, seconds: float, shape: str) -> float:
    """I²t of one pulse in A²s; raises KeyError for an unknown shape."""
    return SHAPES[shape] * peak**2 * seconds


def pulse_share(pulses: float) -> float:
    """The share of the melting I²t that each of so many pulses may have, linear in the logarithm of their number.

    Below 1,000 pulses the share of 1,000; raises ValueError above 100,000, where nothing is published.
    """
    if pulses > ENDURANCE[-1][0]:
        raise ValueError("nothing is published above 100,000 pulses")
    if pulses <= ENDURANCE[0][0]:
        return ENDURANCE[0][1]
    for (few, more), (many, less) in pairwise(ENDURANCE):
        if pulses <= many:
            part = (log10(pulses) - log10(few)) / (log10(many) - log10(few))
            return more + (less - more) * part
    raise AssertionError("the last row ends at the number refused above")


def least_rating(load: float, derating: float = 1.0) -> float:
    """The least rating in A for a lasting load: load / (0.75 · derating for warmth)."""
    return load / (CONTINUOUS * derating)


def opens_after(melting: float, current: float) -> float:
    """Seconds until a short circuit current has delivered the melting I²t, while no heat gets away: t = I²t / I².

    True for times up to about 10 ms (makers' data sheets); longer overloads need the maker's curve.
    """
    return melting / current**2
