"""Units of measurement, their dimensions and exact factors.

Factors are exact fractions. Sources: NIST SP 811 (2008), appendix B, and the definitions it rests on:
1 in = 0.0254 m, 1 lb = 0.453 592 37 kg, standard gravity 9.806 65 m/s² (so 1 lbf = 4.448 221 615 260 5 N),
conventional mercury 13 595.1 kg/m³, conventional water 1000 kg/m³. SI units: the SI Brochure, 9th edition.
An angle is counted in degrees, because a radian has no exact factor. A bare `F` is no unit here: people also write
it for Fahrenheit.
"""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

INCH, FOOT = Fraction("0.0254"), Fraction("0.3048")
GRAVITY = Fraction("9.80665")
LBF = Fraction("0.45359237") * GRAVITY

BASE = {
    "torque": "N·m", "length": "m", "pressure": "Pa", "flow": "m³/s", "power": "W", "force": "N",
    "temperature": "K", "voltage": "V", "resistance": "Ω", "current": "A", "charge": "C", "time": "s",
    "mass": "kg", "ratio": "", "angle": "°", "speed": "m/s", "frequency": "Hz", "rotation": "1/s",
    "volume": "m³", "energy": "J", "capacitance": "F", "stiffness": "N/m", "area": "m²", "fusing": "A²s",
}  # fmt: skip
"""Every dimension with the unit in which its values are compared."""

NEVER_NEGATIVE = frozenset(BASE) - {
    "length", "pressure", "flow", "force", "temperature", "voltage", "current", "ratio", "angle", "speed",
    "rotation", "energy",
}  # fmt: skip
"""Dimensions of which a written number below zero is a slip."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: value in the base unit = value · factor + offset, exactly."""

    symbol: str
    """As it is printed."""
    dimension: str
    factor: Fraction
    offset: Fraction = Fraction(0)
    """Only for temperatures: where the scale's zero stands, in kelvin."""

    def to_base(self, value: Decimal | Fraction) -> Fraction:
        """The value in the base unit of the dimension, exactly."""
        return Fraction(value) * self.factor + self.offset

    def from_base(self, value: Fraction) -> Fraction:
        """A value of the base unit in this unit, exactly."""
        return (value - self.offset) / self.factor

    def __str__(self) -> str:
        return self.symbol


_TABLE: dict[str, dict[str, Fraction | int | str]] = {
    "torque": {
        "N·m": 1, "N·cm": "0.01", "cN·m": "0.01", "mN·m": "0.001", "lbf·in": LBF * INCH, "lbf·ft": LBF * FOOT,
        "ozf·in": LBF / 16 * INCH, "N·mm": "0.001", "kgf·cm": GRAVITY / 100, "kgf·m": GRAVITY,
    },
    "length": {"m": 1, "mm": "0.001", "cm": "0.01", "µm": "0.000001", "in": INCH, "ft": FOOT},
    "pressure": {
        "Pa": 1, "kPa": 1000, "MPa": 10**6, "bar": 10**5, "mbar": 100, "psi": LBF / INCH**2,
        "mmHg": Fraction("13595.1") * GRAVITY / 1000, "cmH2O": GRAVITY * 10, "kgf/cm²": GRAVITY * 10**4,
        "hPa": 100, "Torr": Fraction(101_325, 760), "inHg": Fraction("13595.1") * GRAVITY * INCH,
        "inH2O": 1000 * GRAVITY * INCH,
    },
    "flow": {
        "L/min": Fraction(1, 60_000), "mL/min": Fraction(1, 60_000_000), "L/s": "0.001",
        "mL/h": Fraction(1, 3_600_000_000),
    },
    "power": {"W": 1, "mW": "0.001", "kW": 1000},
    "force": {"N": 1, "mN": "0.001", "kN": 1000, "lbf": LBF, "kgf": GRAVITY, "ozf": LBF / 16},
    "voltage": {
        "V": 1, "mV": "0.001", "µV": "0.000001", "kV": 1000,
        "V d.c.": 1, "V a.c.": 1, "kV d.c.": 1000, "kV a.c.": 1000,
    },
    "resistance": {"Ω": 1, "mΩ": "0.001", "kΩ": 1000, "MΩ": 10**6, "GΩ": 10**9},
    "current": {"A": 1, "mA": "0.001", "µA": "0.000001"},
    "charge": {"Ah": 3600, "mAh": "3.6", "µC": "0.000001"},
    "capacitance": {"mF": "0.001", "µF": "0.000001", "nF": "0.000000001"},
    "time": {"s": 1, "ms": "0.001", "min": 60, "h": 3600, "d": 86400},
    "mass": {"kg": 1, "g": "0.001", "mg": "0.000001", "lb": "0.45359237"},
    "ratio": {"%": Fraction(1, 100)},
    "angle": {"°": 1, "turns": 360},
    "speed": {"m/s": 1, "mm/s": "0.001", "mm/min": Fraction(1, 60_000), "m/min": Fraction(1, 60)},
    "frequency": {"Hz": 1, "kHz": 1000},
    "rotation": {"rpm": Fraction(1, 60)},
    "volume": {"L": "0.001", "mL": "0.000001"},
    "energy": {"J": 1, "kJ": 1000, "mJ": "0.001", "Wh": 3600, "kWh": 3_600_000},
    "stiffness": {"N/mm": 1000, "lbf/in": LBF / INCH},
    "area": {"cm²": "0.0001", "mm²": "0.000001", "in²": INCH**2},
    "fusing": {"A²s": 1},
}  # fmt: skip

UNITS: dict[str, Unit] = {
    symbol: Unit(symbol, dimension, Fraction(factor))
    for dimension, row in _TABLE.items()
    for symbol, factor in row.items()
}
UNITS["K"] = Unit("K", "temperature", Fraction(1))
UNITS["°C"] = Unit("°C", "temperature", Fraction(1), Fraction("273.15"))
UNITS["°F"] = Unit("°F", "temperature", Fraction(5, 9), Fraction("459.67") * 5 / 9)

_OTHER_NAMES = {
    "N·m": "Nm", "N·cm": "Ncm", "cN·m": "cNm", "mN·m": "mNm",
    "lbf·in": "lbf-in lb·in lb-in in·lbf in-lbf in·lb in-lb inlb lbfin in-lbs in·lbs",
    "lbf·ft": "lbf-ft lb·ft lb-ft ft·lbf ft-lbf ft·lb ft-lb ftlb lbfft ft-lbs ft·lbs",
    "ozf·in": "ozf-in oz·in oz-in in·ozf in·oz in-oz ozin", "kgf·cm": "kgf-cm kg·cm kg-cm kgfcm kgcm",
    "kgf·m": "kgfm kg·m", "in": "inch inches", "ft": "foot feet", "cmH2O": "cmH₂O", "kgf/cm²": "kgf/cm2 kg/cm² kg/cm2", "N·mm": "Nmm", "psi": "lbf/in² lbf/in2 lb/in² lb/in2", "lb": "lbs",
    "inHg": "in·Hg", "inH2O": "inH₂O", "Torr": "torr", "d": "day days",
    "L/min": "l/min lpm", "mL/min": "ml/min", "L/s": "l/s", "mL/h": "ml/h", "L": "l litre litres", "mL": "ml",
    "µF": "uF", "µC": "uC", "Wh": "W·h", "kWh": "kW·h", "A²s": "A²·s A2s", "mm²": "mm2", "cm²": "cm2",
    "in²": "in2", "V": "volt volts", "V d.c.": "Vd.c. Vdc VDC V·DC V·dc",
    "V a.c.": "Va.c. Vac VAC V·AC V·ac",
    "kV d.c.": "kVdc kVDC kV·DC", "kV a.c.": "kVac kVAC kV·AC",
    "Ω": "ohm ohms Ohm", "mΩ": "mohm mOhm", "kΩ": "kohm kOhm", "MΩ": "Mohm MOhm megohm megohms", "GΩ": "Gohm GOhm",
    "µm": "um", "µA": "uA", "µV": "uV", "Ah": "A·h", "mAh": "mA·h", "s": "sec secs second seconds",
    "min": "mins minute minutes", "h": "hr hrs hour hours", "%": "percent", "°": "deg degree degrees",
    "turns": "turn", "°C": "℃ degC deg·C", "°F": "℉ degF deg·F", "rpm": "r/min min⁻¹", "mm/s": "mm·s⁻¹",
}  # fmt: skip

PREFIXES = frozenset("MGkmµunph")
"""Letters that make a unit larger or smaller, those that are no unit of the table too."""
WITH_PREFIX = frozenset(
    ["N·m", "m", "Pa", "bar", "W", "N", "V", "Ω", "ohm", "A", "Ah", "F", "s", "g", "L", "Hz", "J", "Wh"]
)
"""Units that take one, for which a wrong prefix is a wrong number."""

_DOTS = str.maketrans({"⋅": "·", "∙": "·", "•": "·", "*": "·", "×": "·", "μ": "µ", "‑": "-", "‐": "-"})
"""Signs that print like the middle dot, the micro sign and the hyphen."""


def canonical(text: str) -> str:
    """A unit as written in the form of the table: NFC (so U+2126 is Ω), one kind of dot, blanks as dots."""
    plain = unicodedata.normalize("NFC", text).translate(_DOTS)
    return "·".join(plain.replace("·", " ").split())


_KNOWN: dict[str, Unit] = {canonical(symbol): unit for symbol, unit in UNITS.items()}
_KNOWN.update({canonical(o): UNITS[s] for s, others in _OTHER_NAMES.items() for o in others.split()})


def spellings() -> dict[str, Unit]:
    """Every unit by every way it may be written."""
    return dict(_KNOWN)


def find_unit(text: str) -> Unit | None:
    """The unit of that spelling; case counts (mΩ is not MΩ). None if it is not known."""
    return _KNOWN.get(text) or _KNOWN.get(canonical(text))


def in_another_case(text: str) -> Unit | None:
    """The one unit with the same letters in another case; None where there are two, such as mΩ and MΩ.

    A lone prefix is none: `k` is as likely kΩ as K.
    """
    if text in PREFIXES:
        return None
    wanted = canonical(text).casefold()
    same = {u.symbol: u for spelling, u in _KNOWN.items() if spelling.casefold() == wanted}
    return next(iter(same.values())) if len(same) == 1 else None


def nearest_unit(text: str) -> Unit | None:
    """The unit that was probably meant: the same letters in another case, else close by."""
    from difflib import get_close_matches

    wanted = canonical(text).casefold()
    same = [u for spelling, u in _KNOWN.items() if spelling.casefold() == wanted]
    if same:
        return same[0]
    folded = {spelling.casefold(): u for spelling, u in reversed(_KNOWN.items())}
    close = get_close_matches(wanted, folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else None
