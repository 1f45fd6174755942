"""A reading that nothing is compared with."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import tolerance_blank
from kilter.check.marked import readable, shortened
from kilter.check.rule import Context
from kilter.check.sample import with_limit, with_tolerance
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K307"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, "read"):
        if not quantity.has_limit:
            message = f"reading `{shortened(marked.role.text)}` has no limit"
            samples = [f"`{s}`" for s in (with_limit(quantity), with_tolerance(quantity)) if s]
            help = f"write the limit, such as {' or '.join(samples) or '`≥ 24.0 V` or `5–7 mm`'}"
            yield error(
                "reading-without-limit", message, marked.span, help, fixes=tolerance_blank(marked.span)
            )
