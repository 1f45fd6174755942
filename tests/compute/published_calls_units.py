"""Calls of the published values of units: plain numbers in, plain numbers or the shown text out."""

from kilter.compute.display import in_other_system
from kilter.compute.quantity import parse_quantity
from kilter.compute.units import UNITS


def converted(value, symbol):
    return float(UNITS[symbol].from_base(parse_quantity(value).base_nominal))


CALLS = {
    "unit factor": lambda g: float(UNITS[g["unit"]].factor),
    "temperature in kelvin": lambda g: converted(g["value"], "K"),
    "temperature in °C": lambda g: converted(g["value"], "°C"),
    "converted": lambda g: converted(g["value"], g["to"]),
    "as the other system shows it": lambda g: in_other_system(parse_quantity(g["value"])),
}
