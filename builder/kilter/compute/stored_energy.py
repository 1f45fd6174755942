"""Energy that stays after a machine is cut off: capacitors, raised weights, springs. SI units, floats.

Formulas of any textbook of physics (OpenStax, University Physics 1 and 2: RC circuits, energy of capacitors,
gravity and springs).
"""

from __future__ import annotations

from math import exp, log

GRAVITY = 9.80665
"""m/s², the conventional value (CGPM 1901, as in NIST SP 811)."""


def bleed_time(capacitance: float, resistance: float, start: float, end: float) -> float:
    """Seconds until a capacitor of so many farad has fallen from `start` to `end` volt over so many ohm.

    t = R·C·ln(U₀/U). Zero where it is below `end` already. Raises ValueError for what can't be.
    """
    if min(capacitance, resistance, start) <= 0 or end <= 0:
        raise ValueError("capacitance, resistance and voltages have to be above zero")
    return max(0.0, resistance * capacitance * log(start / end))


def voltage_after(capacitance: float, resistance: float, start: float, seconds: float) -> float:
    """Volt left after so many seconds: U = U₀·exp(−t/(R·C))."""
    return start * exp(-seconds / (resistance * capacitance))


def capacitor_energy(capacitance: float, voltage: float) -> float:
    """Joule in a capacitor: E = ½·C·U²."""
    return capacitance * voltage**2 / 2


def raised_energy(mass: float, height: float) -> float:
    """Joule in so many kilogram raised by so many metres: E = m·g·h."""
    return mass * GRAVITY * height


def spring_energy(stiffness: float, travel: float, preload: float = 0.0) -> float:
    """Joule that a spring gives back over `travel` metres to where it still pulls with `preload` newton.

    E = ½·k·s² + F₀·s, with k in N/m.
    """
    return stiffness * travel**2 / 2 + preload * travel
