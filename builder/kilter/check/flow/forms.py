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
from kilter.diagnostic import Diagnostic, did_you_mean, error
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
            yield error("bad-exit", f"exit `{field.value}` is none of the three", field.value_span, help)


def _hands(field: Field) -> Findings:
    parsed = parse_hands(field.value)
    if parsed is None:
        help = (
            f"write `:hands: {HANDS[1]} - why nobody reaches in`, or `:hands: live source - why`; levels: "
            + ", ".join(HANDS)
        )
        yield error("bad-hands", f"can't tell where the hands are: `{field.value}`", field.value_span, help)
    elif is_short(parsed.reason) and parsed.level in (*range(CONTROLS + 1), LIVE):
        yield _short(parsed.reason, field)


def _clear(field: Field) -> Findings:
    parsed = parse_clear(field.value)
    if parsed is None:
        help = "write `:clear-of: source - what stands between`"
        yield error(
            "bad-clear-of", f"can't tell what stands between: `{field.value}`", field.value_span, help
        )
    elif is_short(parsed.reason):
        yield _short(parsed.reason, field)


def _short(reason: str, field: Field) -> Diagnostic:
    help = "say in four words or more what keeps hands away, so that a reviewer can judge it"
    return error("short-reason", f"reason of under four words: `{reason}`", field.value_span, help)
