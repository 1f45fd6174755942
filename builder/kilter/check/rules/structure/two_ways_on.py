"""A step that says twice how it goes on."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K211"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        jump, exit = step.field("go-to"), step.field("exit")
        if exit is not None and (jump is not None or step.answers):
            other = "a `:go-to:`" if jump is not None else "answers"
            help = "keep the one that is meant; an exit belongs to a step of its own"
            yield error("two-ways-on", f"step `{step.slug}` has an exit and {other}", exit.span, help)
        elif jump is not None and step.answers:
            help = "delete the `:go-to:`, or write it as the last answer"
            yield error("two-ways-on", f"step `{step.slug}` has answers and a `:go-to:`", jump.span, help)
