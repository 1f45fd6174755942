"""A `#back` where there is nothing to go back to."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.check.targets import BACK, step_targets
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K210"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for target in step_targets(context.document):
        if target.slug != BACK:
            continue
        if target.stage is None or not target.stage.shared:
            help = "lead to a step by its name, or mark the stage `{shared}`"
            yield error("lost-back", "`#back` outside a shared stage", target.span, help)
        elif target.how == "text":
            help = "make it an answer, or write `:go-to: #back`"
            yield error("lost-back", "`#back` in running text does not go back", target.span, help)
