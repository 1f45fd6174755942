"""Threads and strength classes as the standards list them.

Metric sizes and pitches: ISO 261, M2 to M24. Inch sizes: ASME B1.1, #2 to 1 in., UNC and UNF. Stress area:
ISO 898-1 (metric) and ASME B1.1 (inch), the circle of the mean of pitch and minor diameter. Strength: ISO 898-1
(steel), ISO 3506-1 (stainless), SAE J429 (inch); stresses in Pa, lengths in m.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

INCH, KSI, MPA, MM = 0.0254, 6.894757293168e6, 1e6, 1e-3

COARSE = {
    "2": "0.4", "2.5": "0.45", "3": "0.5", "3.5": "0.6", "4": "0.7", "5": "0.8", "6": "1", "7": "1", "8": "1.25",
    "10": "1.5", "12": "1.75", "14": "2", "16": "2", "18": "2.5", "20": "2.5", "22": "2.5", "24": "3",
}  # fmt: skip
FINE = {
    "2": ("0.25",), "2.5": ("0.35",), "3": ("0.35",), "4": ("0.5",), "5": ("0.5",), "6": ("0.75",),
    "8": ("1", "0.75"), "10": ("1.25", "1"), "12": ("1.5", "1.25", "1"), "14": ("1.5", "1"), "16": ("1.5", "1"),
    "18": ("2", "1.5"), "20": ("2", "1.5"), "22": ("2", "1.5"), "24": ("2", "1.5"),
}  # fmt: skip
UN: dict[str, tuple[float, int, int]] = {
    "#2": (0.086, 56, 64), "#3": (0.099, 48, 56), "#4": (0.112, 40, 48), "#5": (0.125, 40, 44),
    "#6": (0.138, 32, 40), "#8": (0.164, 32, 36), "#10": (0.19, 24, 32), "#12": (0.216, 24, 28),
    "1/4": (0.25, 20, 28), "5/16": (0.3125, 18, 24), "3/8": (0.375, 16, 24), "7/16": (0.4375, 14, 20),
    "1/2": (0.5, 13, 20), "9/16": (0.5625, 12, 18), "5/8": (0.625, 11, 18), "3/4": (0.75, 10, 16),
    "7/8": (0.875, 9, 14), "1": (1.0, 8, 12),
}  # fmt: skip
"""Diameter in inches, threads an inch coarse and fine."""


@dataclass(frozen=True, slots=True)
class Thread:
    """A 60° thread: ISO 68-1 profile, basic sizes in m."""

    name: str
    """As it is written: `M8`, `M10x1.25`, `1/4-20`."""
    diameter: float
    pitch: float
    inch: bool = False

    @property
    def pitch_diameter(self) -> float:
        """d2 = d − 0.649519 P."""
        return self.diameter - 0.649519 * self.pitch

    @property
    def stress_area(self) -> float:
        """In m²: π/4 (d − 0.9382 P)², ISO 898-1; with 0.9743 for inch threads, ASME B1.1."""
        return pi / 4 * self.stress_diameter**2

    @property
    def stress_diameter(self) -> float:
        return self.diameter - (0.9743 if self.inch else 0.9382) * self.pitch


@dataclass(frozen=True, slots=True)
class Strength:
    """What a screw of a class bears, in Pa."""

    name: str
    proof: float
    """Proof stress Sp; of stainless steel, which has none, Rp0.2."""
    strain: float
    """0.2 % proof stress Rp0.2, or the yield stress."""
    tensile: float


def metric(size: str, pitch: str) -> Thread:
    """A metric thread; raises KeyError for a size that is not in the table."""
    coarse = COARSE[size]
    name = f"M{size}" if float(pitch) == float(coarse) else f"M{size}x{pitch}"
    return Thread(name, float(size) * MM, float(pitch) * MM)


def unified(size: str, tpi: int) -> Thread:
    """An inch thread; raises KeyError for a size that is not in the table."""
    return Thread(f"{size}-{tpi}", UN[size][0] * INCH, INCH / tpi, inch=True)


_STEEL = {
    "4.6": (225, 240, 400), "4.8": (310, 340, 420), "5.6": (280, 300, 500), "5.8": (380, 420, 520),
    "6.8": (440, 480, 600), "8.8": (580, 640, 800), "9.8": (650, 720, 900), "10.9": (830, 940, 1040),
    "12.9": (970, 1100, 1220),
}  # fmt: skip
_STEEL_ABOVE_16 = {"8.8": (600, 660, 830)}
_STAINLESS = {"50": (210, 500), "70": (450, 700), "80": (600, 800)}
_GRADES = {"2": (55, 57, 74), "5": (85, 92, 120), "8": (120, 130, 150)}
"""Ksi, up to 1 in.; grade 2 is weaker above 3/4 in."""
_GRADE_2_ABOVE = (33, 36, 60)

STEEL = tuple(_STEEL)
STAINLESS = tuple(f"{steel}-{grade}" for steel in ("A2", "A4") for grade in _STAINLESS)
GRADES = tuple(f"Gr {g}" for g in _GRADES)


def strength(name: str, thread: Thread) -> Strength:
    """The figures of a class at the size of a thread; raises KeyError for one that is not in the tables."""
    if name in STAINLESS:
        strain, tensile = _STAINLESS[name.partition("-")[2]]
        return Strength(name, strain * MPA, strain * MPA, tensile * MPA)
    if name in GRADES:
        grade = name.removeprefix("Gr ")
        weaker = grade == "2" and thread.diameter > 0.75 * INCH
        ksi = _GRADE_2_ABOVE if weaker else _GRADES[grade]
        return Strength(name, ksi[0] * KSI, ksi[1] * KSI, ksi[2] * KSI)
    above = thread.diameter > 16.0001 * MM and name in _STEEL_ABOVE_16
    proof, strain, tensile = (_STEEL_ABOVE_16 if above else _STEEL)[name]
    return Strength(name, proof * MPA, strain * MPA, tensile * MPA)


def strongest(thread: Thread) -> Strength:
    """The strongest class that such a thread is made in."""
    return strength("Gr 8" if thread.inch else "12.9", thread)
