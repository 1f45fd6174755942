"""Batteries: what a rested voltage says, how long one lasts, and when a machine goes flat. Floats; V, A, Ah, h.

Nothing here guesses a chemistry: a voltage says something about charge only for lead-acid at rest, and for others
only by the maker's own table.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

REST = ((100.0, 12.6, 12.66), (75.0, 12.4, 12.45), (50.0, 12.2, 12.30), (25.0, 12.0, 12.15))
"""Percent of charge and rested voltage of a 12 V lead-acid battery as two published tables give it; they differ."""
EXPONENTS = {"flooded": (1.2, 1.6), "agm": (1.05, 1.15), "gel": (1.1, 1.25)}
"""Peukert's exponent by build, from and to, as published tables give it."""


@dataclass(frozen=True, slots=True)
class Charge:
    """A state of charge in percent, from and to."""

    low: float
    high: float


def lead_acid_charge(voltage: float, cells: int = 6) -> Charge:
    """State of charge from a voltage after hours of rest, by both published tables, linear between their points.

    Below the tables 0 to 25 %, above them 100 %. `cells` is 6 for a 12 V battery; other sizes are scaled.
    """
    scaled = voltage * 6 / cells
    found = [_between(scaled, [(row[column], row[0]) for row in REST]) for column in (1, 2)]
    return Charge(min(f.low for f in found), max(f.high for f in found))


def table_charge(voltage: float, table: Sequence[tuple[float, float]]) -> Charge:
    """State of charge by a maker's table of (voltage, percent), linear between its points; raises ValueError."""
    if len(table) < 2 or len({v for v, _ in table}) != len(table):
        raise ValueError("a table has two different voltages at least")
    ordered = sorted(table, reverse=True)
    if any(first[1] < second[1] for first, second in pairwise(ordered)):
        raise ValueError("the table's charge does not rise with its voltage")
    return _between(voltage, ordered)


def _between(voltage: float, points: Sequence[tuple[float, float]]) -> Charge:
    """By (voltage, percent) from the highest down."""
    if voltage >= points[0][0]:
        return Charge(points[0][1], 100.0)
    for (upper, more), (lower, less) in pairwise(points):
        if voltage >= lower:
            percent = less + (more - less) * (voltage - lower) / (upper - lower)
            return Charge(percent, percent)
    return Charge(0.0, points[-1][1])


def peukert_hours(capacity: float, rated_hours: float, current: float, exponent: float) -> float:
    """Hours a battery lasts: t = H·(C/(I·H))^k, with C in Ah as rated over H hours.

    Peukert's law in the form that keeps the rated point; C/I^k does not. Raises ValueError.
    """
    if min(capacity, rated_hours, current) <= 0 or exponent < 1:
        raise ValueError("capacity, hours and current have to be above zero, the exponent 1 or more")
    return float(rated_hours * (capacity / (current * rated_hours)) ** exponent)


def at_temperature(
    capacity: float, celsius: float, percent_per_kelvin: float, reference: float = 25.0
) -> float:
    """Capacity at a temperature, linear about the reference, never below zero or above the rated one.

    The slope is the maker's; about 0.6 to 1 % a kelvin below 25 °C for lead-acid is from memory.
    """
    return max(0.0, min(capacity, capacity * (1 + percent_per_kelvin / 100 * (celsius - reference))))


@dataclass(frozen=True, slots=True)
class Use:
    """One part of a machine's day."""

    name: str
    current: float
    """A."""
    hours: float
    """A day."""


def ampere_hours_a_day(day: Sequence[Use]) -> float:
    """Ah that a day of use draws; raises ValueError where the parts come to more than 24 hours."""
    if sum(use.hours for use in day) > 24 + 1e-9:
        raise ValueError("a day has 24 hours")
    return sum(use.current * use.hours for use in day)


def days_until_flat(usable: float, a_day: float, charged: float = 1.0) -> float:
    """Days of use until a battery that nothing charges is flat: usable Ah over Ah a day."""
    if usable <= 0 or a_day <= 0 or not 0 < charged <= 1:
        raise ValueError("capacity and use have to be above zero, the charge above 0 and at most 1")
    return usable * charged / a_day


def sag(open_voltage: float, current: float, resistance: float) -> float:
    """Voltage at the terminals under load: U = U₀ − I·R."""
    return open_voltage - current * resistance


def recharge_hours(missing: float, current: float, acceptance: float) -> float:
    """Hours to put back so many Ah: missing / (current · acceptance); acceptance is 0 to 1, the maker's."""
    if current <= 0 or not 0 < acceptance <= 1 or missing < 0:
        raise ValueError("current above zero, acceptance above 0 and at most 1")
    return missing / (current * acceptance)
