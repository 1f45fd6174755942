"""Torque and preload of a screw, both ways.

Short form T = K·d·F: Budynas and Nisbett, *Shigley's Mechanical Engineering Design*, 8-8. Long form, a screw's
friction in thread and under head: the same, power-screw equation of 8-2 with a 60° thread, and the collar term;
VDI 2230-1 has the same with small angles linearised. Torsion in the shank while it is tightened and the preload at
which tension and torsion together use a share of the yield stress: VDI 2230-1 (2003), R8: the torsional section
modulus of a fully yielded section, π d³/12. Units: N, N·m, m, Pa.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from kilter.compute.fastener_tables import Thread

_SECANT = 2 / sqrt(3)
"""1/cos 30°: how much steeper the flank of a 60° thread presses."""
BEARING = 1.25
"""Mean diameter of the face under the head as a multiple of d: Shigley 8-8."""


@dataclass(frozen=True, slots=True)
class Drag:
    """One state of friction: torque for one newton of preload, in m, in the thread and altogether."""

    thread: float
    whole: float


def thread_drag(thread: Thread, mu: float) -> float:
    """Thread torque for one newton, m: d2/2 · (tan λ + µ/cos 30°)/(1 − µ tan λ/cos 30°), with tan λ = P/(π d2)."""
    lead = thread.pitch / (pi * thread.pitch_diameter)
    slip = mu * _SECANT
    return thread.pitch_diameter / 2 * (lead + slip) / (1 - slip * lead)


def long_form(thread: Thread, mu_thread: float, mu_head: float, bearing: float | None = None) -> Drag:
    """Drag of friction in the thread and under the head; `bearing` is the mean diameter of the face, m."""
    face = BEARING * thread.diameter if bearing is None else bearing
    inner = thread_drag(thread, mu_thread)
    return Drag(inner, inner + mu_head * face / 2)


def least_k(thread: Thread, bearing: float | None = None) -> float:
    """The K of a screw without any friction; a lower one is impossible."""
    return long_form(thread, 0.0, 0.0, bearing).whole / thread.diameter


def short_form(thread: Thread, k: float, bearing: float | None = None) -> Drag:
    """Drag of a K; the thread's part follows from equal friction in thread and head. ValueError below `least_k`."""
    mu = friction_of(thread, k, bearing)
    return Drag(thread_drag(thread, mu), k * thread.diameter)


def friction_of(thread: Thread, k: float, bearing: float | None = None) -> float:
    """The friction, the same in thread and under head, that a K amounts to; ValueError below `least_k`."""
    wanted = k * thread.diameter
    if wanted < long_form(thread, 0.0, 0.0, bearing).whole:
        raise ValueError("less than the torque of a screw without friction")
    low, high = 0.0, 2.0
    for _ in range(80):
        middle = (low + high) / 2
        if long_form(thread, middle, middle, bearing).whole < wanted:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def preload(torque: float, drag: Drag, prevailing: float = 0.0) -> float:
    """F in N from a torque, less what a lock nut takes; nothing when the nut takes all."""
    return max(0.0, torque - prevailing) / drag.whole


def torque_for(force: float, drag: Drag, prevailing: float = 0.0) -> float:
    """T in N·m for a preload, the drag of a lock nut added."""
    return force * drag.whole + prevailing


def combined_stress(thread: Thread, force: float, drag: Drag, prevailing: float = 0.0) -> float:
    """Tension and torsion together while tightening, Pa: √(σ² + 3τ²), τ = torque in the thread / (π d³/12)."""
    tension = force / thread.stress_area
    torsion = (force * drag.thread + prevailing) / (pi * thread.stress_diameter**3 / 12)
    return sqrt(tension**2 + 3 * torsion**2)


def preload_at(thread: Thread, strain: float, drag: Drag, share: float = 0.9) -> float:
    """The preload at which tension and torsion together use a share of the yield stress (F_M of VDI 2230-1), N."""
    return share * strain / combined_stress(thread, 1.0, drag)
