"""A shared stage that does itself."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.document import Document, Field, Stage

CODE = "K211"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    stages = context.document.shared_stages
    for stage in stages.values():
        for field in _calls(stage):
            called = field.value.removeprefix("#")
            if called in stages and stage.slug in _reached(context.document, called):
                message = f"shared stage `{stage.slug}` does itself, so it never ends"
                yield error("do-loop", message, field.value_span, "let one of them stand by itself")


def _calls(stage: Stage) -> list[Field]:
    return [f for step in stage.steps if (f := step.field("do")) is not None]


def _reached(document: Document, first: str) -> set[str]:
    """The shared stages of the document that are done when one of them is done, itself included."""
    reached, left = {first}, [first]
    while left:
        stage = document.shared_stages[left.pop()]
        for name in (f.value.removeprefix("#") for f in _calls(stage)):
            if name in document.shared_stages and name not in reached:
                reached.add(name)
                left.append(name)
    return reached
