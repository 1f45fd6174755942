"""A link to another procedure, from a step that does not end here, or to a number that nobody has."""

import re
from collections.abc import Iterator

from kilter.check.fixes import name_spelt
from kilter.check.lookup import links, near
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.document import Step
from kilter.model.front import ProfileFront
from kilter.model.text import Link
from kilter.read.library import FOLDER

CODE = "K219"
SEVERITY = Severity.ERROR

_NUMBER = re.compile(r"[A-Za-z0-9]+(-[A-Za-z0-9]+)*")


def is_number(target: str) -> bool:
    """Whether a link's target has the form of a document's number."""
    return _NUMBER.fullmatch(target) is not None


def check(context: Context) -> Iterator[Diagnostic]:
    for stage, step, link in links(context.document):
        if not is_number(link.target):
            continue
        if context.library.number(link.target) is None:
            yield _unknown(context, link)
        elif (stage is not None or not context.document.is_profile) and _goes_on(step):
            help = "link to it from a step with an `:exit:`, where this procedure ends"
            message = f"`{link.target}` is linked to where this procedure still goes on"
            why = "the other procedure begins at a live machine; work half done here would be lost"
            yield error("procedure-link", message, link.target_span, help, why=why)


def _goes_on(step: Step | None) -> bool:
    return step is None or step.field("exit") is None


def _unknown(context: Context, link: Link) -> Diagnostic:
    numbers = [
        d.front.number for d in context.library.numbers.values() if not isinstance(d.front, ProfileFront)
    ]
    help = near(link.target, numbers, "write the number of a document of this library")
    # outside a library the other document may well exist
    severity = Severity.ERROR if context.library.root.name == FOLDER else Severity.WARNING
    message = f"no document has the number `{link.target}`"
    cure = name_spelt(context.library, link.target_span, link.target, numbers)
    return Diagnostic("procedure-link", severity, message, link.target_span, help, fixes=cure)
