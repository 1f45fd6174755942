"""Fields that can't be read, or say too little."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kilter.check.flow.fields import (
    CONTROLS,
    EXITS,
    HANDS,
    LIVE,
    is_short,
    parse_clear,
    parse_exit,
    parse_hands,
)
from kilter.check.flow.step_cures import clear_read, exit_read, hands_read, longer_reason
from kilter.diagnostic import Diagnostic, did_you_mean, error, nearest
from kilter.model.base import fold
from kilter.model.document import Field

Findings = Iterator[Diagnostic]


def field_findings(fields: Iterable[Field]) -> Findings:
    for field in fields:
        if field.name == "hands":
            yield from _hands(field)
        elif field.name == "clear-of":
            yield from _clear(field)
        elif field.name == "exit" and parse_exit(field.value) is None:
            help = did_you_mean(field.value, EXITS)
            message = f"exit `{field.value}` is none of the three"
            yield error("bad-exit", message, field.value_span, help, fixes=exit_read(field))


def _hands(field: Field) -> Findings:
    parsed = parse_hands(field.value)
    if parsed is None:
        help = (
            f"write `:hands: {HANDS[1]} - why nobody reaches in`, or `:hands: live source - why`; levels: "
            + ", ".join(HANDS)
        )
        near = nearest(field.value.split()[0] if field.value else "", HANDS)
        if near is not None and not fold(field.value).startswith(near):
            help = f"did you mean `{near}`? " + help
        message = f"can't tell where the hands are: `{field.value}`"
        yield error("bad-hands", message, field.value_span, help, fixes=hands_read(field))
    elif is_short(parsed.reason) and parsed.level in (*range(CONTROLS + 1), LIVE):
        yield _short(parsed.reason, field)


def _clear(field: Field) -> Findings:
    parsed = parse_clear(field.value)
    if parsed is None:
        help = "write `:clear-of: source - what stands between`"
        message = f"can't tell what stands between: `{field.value}`"
        yield error("bad-clear-of", message, field.value_span, help, fixes=clear_read(field))
    elif is_short(parsed.reason):
        yield _short(parsed.reason, field)


def _short(reason: str, field: Field) -> Diagnostic:
    help = "say in four words or more what keeps hands away, so that a reviewer can judge it"
    message = f"reason of under four words: `{reason}`"
    return error("short-reason", message, field.value_span, help, fixes=longer_reason(field))
