"""A reading of a measure that none of its step's declared tools shows."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.kit import tools_in
from kilter.check.marked import readable, shortened
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K341"
SEVERITY = Severity.WARNING

_SETS = "torque"
"""What a torque wrench shows is set, not read."""


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, limit in readable(context, "read"):
        declared = list(tools_in(context, marked.step))
        shown = {t.dimension: t.name for t in declared if t.dimension and t.dimension != _SETS}
        if not shown or limit.dimension in shown or any(t.range and not t.dimension for t in declared):
            continue
        dimension, tool = next(iter(shown.items()))
        message = (
            f"reading `{shortened(marked.role.text)}` is a {limit.dimension}, `{tool}` shows a {dimension}"
        )
        help = "look at the unit, or name the tool that shows it with `{tool}`"
        yield warning("reading-tool-kind", message, marked.span, help)
