"""How the published values about switches and chains of dimensions are worked out."""

from fractions import Fraction

from kilter.compute.calculation import calculator, read_inputs
from kilter.compute.quantity import parse_quantity
from kilter.compute.spread import Part, spread
from kilter.compute.switch import figures, window


def _window(given):
    switch = figures({k: parse_quantity(v) for k, v in given.items() if k != "end"})
    found = window(switch)
    return "none" if found.empty else float((found.low if given["end"] == "low" else found.high) * 1000)


def _stack(given):
    calculation = calculator("stack")
    result = calculation.work(read_inputs(calculation.inputs, {"part": given["part"]}))
    line = next(line for line in result.lines if line.name == given["line"])
    return {"value": line.value, "low": line.low, "high": line.high}[given["of"]]


def _alike(given):
    half = Fraction(str(given["tolerance"]))
    found = spread([Part(str(n), -half, half) for n in range(given["parts"])])
    return float(found.worst) if given["way"] == "worst" else found.rss


CALLS = {"switch.window": _window, "stack": _stack, "spread of alike parts": _alike}
