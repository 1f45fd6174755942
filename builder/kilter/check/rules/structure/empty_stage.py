"""A stage without steps."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K212"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for stage in context.document.stages:
        if not stage.steps:
            help = "write an H3 above what is done: text under an H2 alone is not checked"
            yield error("empty-stage", f"stage `{stage.title}` has no step", stage.heading_span, help)
