"""A tightening torque that is one bare number or open to one side."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import tolerance_blank
from kilter.check.marked import readable, shortened
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K305"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, "torque"):
        if not quantity.has_tolerance:
            message = f"torque `{shortened(marked.role.text)}` has no tolerance"
            help = "write `22 ± 2 N·m`, `22 N·m ± 10 %` or `20–24 N·m`"
            yield error(
                "torque-without-tolerance", message, marked.span, help, fixes=tolerance_blank(marked.span)
            )
