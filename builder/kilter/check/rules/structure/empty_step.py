"""A step that says nothing."""

from collections.abc import Iterator

from kilter.check.fixes import above_text
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, warning

CODE = "K214"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        if not step.blocks and not step.answers and not step.field("do") and not step.field("exit"):
            help = "say in a sentence what is done, or delete the step"
            edit = above_text(step, "[fill in: what is done]")
            cure = (Fix("leave a blank for what is done", (edit,), leaves_blank=True),)
            message = f"step `{step.title}` says nothing"
            yield warning("empty-step", message, step.heading_span, help, fixes=cure)
