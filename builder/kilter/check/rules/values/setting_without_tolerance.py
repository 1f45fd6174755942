"""A setting that is one bare number."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import tolerance_blank
from kilter.check.marked import readable, shortened
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K306"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, "set"):
        if not quantity.has_limit:
            message = f"setting `{shortened(marked.role.text)}` has no tolerance"
            help = "write how far off it may be, such as `7.9 ± 0.1 mm`, `7.8–8.0 mm` or `≥ 10 mm`"
            yield error(
                "setting-without-tolerance", message, marked.span, help, fixes=tolerance_blank(marked.span)
            )
