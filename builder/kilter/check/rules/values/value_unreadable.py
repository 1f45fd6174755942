"""A marked value that states no number, or not clearly."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import value_fixes
from kilter.check.marked import place, shortened, troubles
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K301"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, trouble in troubles(context):
        if trouble.about == "value":
            span = place(context.library, marked.span, marked.role.text, trouble.start, trouble.end)
            message = f"{marked.purpose} `{shortened(marked.role.text)}`: {trouble.message}"
            cure = value_fixes(trouble, marked.role.text, span, marked.purpose == "wait")
            yield error("value-unreadable", message, span, trouble.help, fixes=cure)
