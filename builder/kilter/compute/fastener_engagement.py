"""How long a screw has to be engaged, and what its thread bears before it strips.

Shear areas: ISO 68-1 profile and the formulas of ASME B1.1 and FED-STD-H28/2, with the tolerances of ISO 965-1
(6g screw, 6H hole) so that the loosest fit is judged; inch threads of class 2A/2B are within a few percent of it.
The shear strength is the tapped material's and is always given: a table could not know the alloy. Plastic with an
insert has no formula: what holds the insert is the maker's pull-out force. Units: m, N, Pa.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from kilter.compute.fastener_tables import Strength, Thread

_TAN = 1 / sqrt(3)
LEAD_IN = 1.0
"""Pitches at the mouth and the tip that bear nothing: chamfers; common practice, no source."""
SHEAR_OF_STEEL = 0.577
"""Shear over tensile strength of the screw's own thread: von Mises, on the low side for steel."""


@dataclass(frozen=True, slots=True)
class Loosest:
    """Sizes of the loosest fit, m."""

    outer: float
    """Least outside diameter of the screw."""
    screw_pitch: float
    """Least pitch diameter of the screw."""
    hole_pitch: float
    """Greatest pitch diameter of the hole."""
    hole_inner: float
    """Greatest inside diameter of the hole."""


def loosest(thread: Thread) -> Loosest:
    """ISO 965-1: es(g) = 15 + 11 P, Td = 180 P^⅔ − 3.15/√P, Td2 = 90 P^0.4 d^0.1, TD2 = 1.32 Td2 (µm, mm)."""
    p, d = thread.pitch * 1e3, thread.diameter * 1e3
    gap = 15 + 11 * p
    outside = 180 * p ** (2 / 3) - 3.15 / sqrt(p)
    flank = 90 * p**0.4 * d**0.1
    inner = 433 * p - 190 * p**1.22 if p < 1 else 230 * p**0.7
    middle, bore = thread.pitch_diameter, thread.diameter - 1.082532 * thread.pitch
    micro = 1e-6
    return Loosest(
        thread.diameter - (gap + outside) * micro,
        middle - (gap + flank) * micro,
        middle + 1.32 * flank * micro,
        bore + inner * micro,
    )


def hole_area(thread: Thread) -> float:
    """Shear area of the hole's thread for one metre of engagement, m²: π d/P · (P/2 + (d − D2) tan 30°)."""
    fit = loosest(thread)
    return pi * fit.outer / thread.pitch * (thread.pitch / 2 + (fit.outer - fit.hole_pitch) * _TAN)


def screw_area(thread: Thread) -> float:
    """Shear area of the screw's thread for one metre of engagement, m²: π D1/P · (P/2 + (d2 − D1) tan 30°)."""
    fit = loosest(thread)
    return pi * fit.hole_inner / thread.pitch * (thread.pitch / 2 + (fit.screw_pitch - fit.hole_inner) * _TAN)


def strip_load(thread: Thread, engaged: float, shear: float, screw: Strength | None = None) -> float:
    """The load at which the hole's thread, or the screw's if its class is known, strips; N."""
    bearing = max(0.0, engaged - LEAD_IN * thread.pitch)
    loads = [bearing * hole_area(thread) * shear]
    if screw is not None:
        loads.append(bearing * screw_area(thread) * screw.tensile * SHEAR_OF_STEEL)
    return min(loads)


def least_engagement(thread: Thread, screw: Strength, shear: float) -> float:
    """The engagement from which the screw breaks before a thread strips, m."""
    breaks = thread.stress_area * screw.tensile
    weaker = min(hole_area(thread) * shear, screw_area(thread) * screw.tensile * SHEAR_OF_STEEL)
    return breaks / weaker + LEAD_IN * thread.pitch
