"""An objective leans on a step that its module does not cover."""

from collections.abc import Iterator

from kilter.check.module import ModuleContext
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K902"
SEVERITY = Severity.ERROR


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    for name, objective in context.module.front.objectives.items():
        for n, reference in enumerate(objective.covers):
            beyond = [c.key for c in context.find(reference) if c.key not in context.covered]
            if beyond:
                span = context.module.places.of("objectives", name, "covers", n)
                message = f"objective `{name}` leans on {beyond[0]}, which the module does not cover"
                yield error(
                    "objective-beyond", message, span, f"add `{reference}` to `covers:`, or take it out here"
                )
