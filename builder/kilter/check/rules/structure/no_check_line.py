"""A pre-use check in which nothing is asked."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.front import CheckFront

CODE = "K217"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if not isinstance(document.front, CheckFront):
        return
    if document.stages and not any(step.answers for _, step in document.all_steps()):
        help = "end each check with its answers, the pass first: `- Lamp green: [Next](#next)`"
        yield error("no-check-line", "no step of the check has answers", document.title_span, help)
