"""A procedure or check in which nothing is done."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K213"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if document.is_profile or any(not s.shared for s in document.stages):
        return
    if document.stages:
        help = "write the stage that does them, with `:do:` on its steps"
        message = "every stage is shared, so nothing is done"
    else:
        help, message = "write `## Stage` and below it `### Step`", "the document has no stage"
    yield error("no-stages", message, document.title_span, help)
