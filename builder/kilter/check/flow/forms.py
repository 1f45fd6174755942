"""Fields and panels that can't be read, or say too little."""

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
from kilter.check.flow.words import sentences
from kilter.diagnostic import Diagnostic, did_you_mean, error
from kilter.model.document import Field
from kilter.model.text import Panel, Styled, paragraphs, plain

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


def panel_findings(panel: Panel) -> Findings:
    if panel.word == "notice":
        return
    missing = _missing(panel)
    if missing:
        help = "write `**Hazard.** What happens. How to avoid it.`: a bold lead, then at least two sentences"
        yield error(
            "panel-incomplete", f"the {panel.word.upper()} panel does not say {missing}", panel.span, help
        )


def _missing(panel: Panel) -> str:
    blocks = list(paragraphs(panel.blocks))
    lead = blocks[0].runs[0] if blocks and blocks[0].runs else None
    if not isinstance(lead, Styled) or lead.kind != "strong":
        return "the hazard first, in bold"
    text = " ".join([plain(blocks[0].runs[1:]), *(plain(p.runs) for p in blocks[1:])])
    said = [s for s in sentences(text) if any(c.isalpha() for c in s)]
    return ("what happens, and how to avoid it", "how to avoid it")[len(said)] if len(said) < 2 else ""
