"""Answers whose limits are not those of the reading that they are about."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.limits import limit_at
from kilter.check.marked import Marked, marked_values
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, warning

CODE = "K343"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    by_step: dict[str, list[Marked]] = {}
    for marked in marked_values(context.document):
        if marked.purpose == "read":
            by_step.setdefault(marked.step.slug, []).append(marked)
    for readings in by_step.values():
        if len(readings) == 1:
            yield from _compare(readings[0])


def _compare(marked: Marked) -> Iterator[Diagnostic]:
    """Where every answer begins with a limit, one of them has to end where the reading's limit stands."""
    limit = marked.quantity
    said = [(answer, limit_at(answer.words)) for answer in marked.step.answers]
    if limit is None or not limit.has_limit or len(said) < 2 or any(found is None for _, found in said):
        return
    limits = [found for _, found in said if found is not None]
    if {found.dimension for found in limits} != {limit.dimension}:
        return
    ends = {end for found in limits for end in (found.low, found.high) if end is not None}
    for end, written in ((limit.base_low, limit.low), (limit.base_high, limit.high)):
        if end is None or end in ends:
            continue
        message = (
            f"no answer tells {written} {limit.unit.symbol} apart, where the limit of the reading stands"
        )
        help = "let the answers divide where the reading's limit is, or mend the limit"
        place = Label(marked.span, "the limit")
        yield warning("answer-differs", message, marked.step.answers[0].span, help, related=(place,))
        return
