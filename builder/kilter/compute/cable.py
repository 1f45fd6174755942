"""Resistance of a cable and what is lost in it. SI units, floats."""

from __future__ import annotations

from math import pi

COPPER = 1 / 58e6
"""Ω·m at 20 °C: the International Annealed Copper Standard, IEC 60028."""
PER_KELVIN = 0.00393
"""Rise of copper's resistance for each kelvin from 20 °C: IEC 60028."""


def awg_area(gauge: int) -> float:
    """Area in m² of a solid wire of an American Wire Gauge from 0 to 40; raises ValueError.

    Diameter 0.127 mm · 92^((36 − n)/39), ASTM B258.
    """
    if not 0 <= gauge <= 40:
        raise ValueError("gauges 0 to 40 can be worked with")
    diameter = 0.127e-3 * 92 ** ((36 - gauge) / 39)
    return float(pi / 4 * diameter**2)


def resistance(area: float, length: float, celsius: float = 20.0) -> float:
    """Ohm of a copper conductor of so many m² and m: R = ρ·l/A, with ρ at its temperature."""
    if area <= 0 or length < 0:
        raise ValueError("an area above zero and a length that is not below are needed")
    return COPPER * (1 + PER_KELVIN * (celsius - 20)) * length / area


def broken_strands(left: int, of: int) -> float:
    """How many times the resistance of the whole a conductor has where only some strands are left."""
    if not 0 < left <= of:
        raise ValueError("between one strand and all of them can be left")
    return of / left
