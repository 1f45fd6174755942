"""A difference of temperatures written in degrees of a scale."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.marked import readable, shortened
from kilter.check.rule import Context
from kilter.compute.display import is_difference
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K342"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, "read"):
        if is_difference(marked.name, quantity):
            said = shortened(marked.role.text)
            message = f"`{said}` reads as a difference, {quantity.unit} is a temperature"
            help = "write a difference in K; in °C it can be taken for a temperature, also in °F"
            yield warning("difference-in-degrees", message, marked.span, help)
