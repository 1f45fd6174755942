"""Pressure, force and creep of hydraulic cylinders. SI units, floats.

Formulas of any textbook of physics (OpenStax, University Physics 1: pressure, Pascal's principle).
"""

from __future__ import annotations

from math import pi

from kilter.compute.stored_energy import GRAVITY


def piston_area(bore: float, rod: float = 0.0) -> float:
    """m² that the pressure acts on: of the whole bore, or of the ring around the rod. Raises ValueError."""
    if bore <= 0 or not 0 <= rod < bore:
        raise ValueError("a bore above zero and a rod thinner than it are needed")
    return pi / 4 * (bore**2 - rod**2)


def force(pressure: float, area: float) -> float:
    """N: F = p·A."""
    return pressure * area


def pressure(load: float, area: float) -> float:
    """Pa under a load in N: p = F/A."""
    return load / area


def weight(mass: float) -> float:
    """N of so many kg."""
    return mass * GRAVITY


def creep(distance: float, seconds: float) -> float:
    """m/s at which a held section sinks."""
    if seconds <= 0:
        raise ValueError("a time above zero is needed")
    return distance / seconds
