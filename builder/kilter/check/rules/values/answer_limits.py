"""Answers whose limits leave values out, or fit one value twice."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from kilter.check.limits import Limit, limit_at
from kilter.check.rule import Context
from kilter.compute.units import NEVER_NEGATIVE
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.document import Answer, Step
from kilter.source import Span

CODE = "K316"
SEVERITY = Severity.WARNING

HELP = "let each limit begin where the last one ends, such as `Below 1 V` and `1 V or more`"
Said = tuple[Answer, Limit]


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        if len(step.answers) > 1:
            yield from _step(step)


def _step(step: Step) -> Iterator[Diagnostic]:
    said = [(a, limit) for a in step.answers if (limit := limit_at(a.words)) is not None]
    if len({limit.dimension for _, limit in said}) != 1:
        return
    for (_, one), (answer, two) in combinations(said, 2):
        if one.alone and two.alone and _both(one, two):
            yield _finding(answer.span, f"`{one.text}` and `{two.text}` can both be true")
            return
    if len(said) == len(step.answers):
        yield from _gaps(said)


def _both(one: Limit, two: Limit) -> bool:
    """Whether some value fits both."""
    return _reaches(one, two) and _reaches(two, one)


def _reaches(low: Limit, high: Limit) -> bool:
    """Whether the lower end of one is not above the upper end of the other."""
    if low.low is None or high.high is None:
        return True
    return low.low < high.high or (low.low == high.high and low.has_low and high.has_high)


def _gaps(said: list[Said]) -> Iterator[Diagnostic]:
    """Where no answer fits; what is said after a limit narrows it, so the gap is there anyway."""
    rising = sorted(said, key=lambda s: (s[1].low is not None, s[1].low or Fraction(), not s[1].has_low))
    answer, first = rising[0]
    if first.low is not None and not (
        first.low <= 0 and (first.has_low or first.dimension in NEVER_NEGATIVE)
    ):
        yield _finding(answer.span, f"no answer fits what is below `{first.text}`")
    furthest = first
    for answer, limit in rising[1:]:
        if not _touches(furthest, limit):
            yield _finding(answer.span, f"no answer fits between `{furthest.text}` and `{limit.text}`")
        furthest = max(furthest, limit, key=_upper)
    if furthest.high is not None:
        yield _finding(answer.span, f"no answer fits what is above `{furthest.text}`")


def _upper(limit: Limit) -> tuple[bool, Fraction, bool]:
    return limit.high is None, limit.high or Fraction(), limit.has_high


def _touches(before: Limit, limit: Limit) -> bool:
    """Whether nothing lies between the upper end of one and the lower end of the next."""
    if before.high is None or limit.low is None or before.high > limit.low:
        return True
    return before.high == limit.low and (before.has_high or limit.has_low)


def _finding(span: Span, message: str) -> Diagnostic:
    why = "Who reads a value like that does not know where to go, or may choose."
    return warning("answer-limits", message, span, HELP, why=why)
