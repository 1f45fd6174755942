"""A tightening torque that is one bare number or open to one side."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import tolerance_blank
from kilter.check.marked import readable, shortened
from kilter.check.rule import Context
from kilter.check.sample import with_tolerance
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K305"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, "torque"):
        if not quantity.has_tolerance:
            message = f"torque `{shortened(marked.role.text)}` has no tolerance"
            sample = with_tolerance(quantity) or "22 ± 2 N·m"
            help = f"write how far off it may be, such as `{sample}`, or from and to: `20–24 N·m`"
            yield error(
                "torque-without-tolerance", message, marked.span, help, fixes=tolerance_blank(marked.span)
            )
