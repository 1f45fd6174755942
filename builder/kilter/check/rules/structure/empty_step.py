"""A step that says nothing."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K214"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        if not step.blocks and not step.answers and not step.field("do") and not step.field("exit"):
            help = "say in a sentence what is done, or delete the step"
            yield warning("empty-step", f"step `{step.title}` says nothing", step.heading_span, help)
