"""A decision whose answers all lead to one place."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.base import fold

CODE = "K236"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        targets = {fold(answer.target) for answer in step.answers}
        if len(step.answers) > 1 and len(targets) == 1:
            message = f"all answers of step `{step.slug}` lead to the same place"
            help = "send what is not right to a step that deals with it; where nothing is decided, leave the answers out"
            yield warning("answers-alike", message, step.answers[-1].link.span, help)
