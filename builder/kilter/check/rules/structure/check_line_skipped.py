"""A pre-use check in which a failed line leads to the machine's release."""

from collections.abc import Iterator
from functools import partial

from kilter.check.onward import asks, released
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.front import CheckFront

CODE = "K234"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if not isinstance(document.front, CheckFront) or context.profile is None:
        return
    steps = {step.slug: step for _, step in document.all_steps()}
    for step in steps.values():
        for answer in step.answers[1:]:
            if released(context.analysis, answer, partial(asks, step.slug)):
                message = f"`{answer.words}` fails the line `{step.title}`, yet the machine can be released"
                help = (
                    "the first answer is the pass; lead this one to taking the machine out of use, "
                    "or to a step that comes back to this line"
                )
                yield error("check-line-skipped", message, answer.link.span, help)
