"""One reading that is judged by two different limits."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import name_put
from kilter.check.marked import Marked, marked_values
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.base import fold

CODE = "K311"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    first: dict[str, Marked] = {}
    for marked in (*_of_profile(context), *marked_values(context.document)):
        if marked.purpose != "read" or marked.quantity is None or not marked.name:
            continue
        before = first.setdefault(fold(marked.name), marked)
        if before is not marked and not _agree(before, marked):
            message = f"reading `{marked.name}` has two limits"
            help = (
                f"write one of them in both places, or name the readings apart; here it is `{_said(marked)}`"
            )
            label = Label(before.span, f"there it is `{_said(before)}`")
            cure = name_put(context.library, marked.span, _said(marked), _said(before))
            yield error("reading-two-limits", message, marked.span, help, related=(label,), fixes=cure)


def _of_profile(context: Context) -> Iterator[Marked]:
    """The readings of the profile's shared stages, which stand in the document as if written there."""
    if context.profile is not None and context.profile is not context.document:
        yield from marked_values(context.profile)


def _said(marked: Marked) -> str:
    return marked.quantity.text.strip() if marked.quantity is not None else ""


def _agree(before: Marked, after: Marked) -> bool:
    """The same limits, or a limit as left that lies inside the one as found."""
    one, two = before.quantity, after.quantity
    assert one is not None
    assert two is not None
    if one.same_limits(two):
        return True
    phases = (before.phase, after.phase)
    if phases == ("as found", "as left"):
        return two.within(one)
    return phases == ("as left", "as found") and one.within(two)
