"""A reading that nothing is compared with."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import tolerance_blank
from kilter.check.marked import readable, shortened
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K307"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, "read"):
        if not quantity.has_limit:
            message = f"reading `{shortened(marked.role.text)}` has no limit"
            help = "write the limit: `≥ 24.0 V`, `≤ 0.3 Ω`, `27.3 ± 0.3 V` or `5–7 mm`"
            yield error(
                "reading-without-limit", message, marked.span, help, fixes=tolerance_blank(marked.span)
            )
