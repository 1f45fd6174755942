"""Two instructions in one sentence (ASD-STE100)."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.grammar import second_instruction
from kilter.check.prose import done_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, hint
from kilter.read.cures import replaced, text_at
from kilter.source import Span

CODE = "K503"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    for _, sentences in done_sentences(context.document):
        for sentence in sentences:
            found = second_instruction(sentence.text)
            if found is not None:
                message = "two instructions in one sentence"
                help = "begin a new sentence here, or say that both are done at once (`while`, `at the same time`)"
                place = sentence.place(*found)
                yield hint("two-instructions", message, place, help, fixes=_parted(context, place))


_JOINED = re.compile(r"[,;]?\s+(?:(?:and then|then|and)\s+)?(?P<verb>[a-z]+)")


def _parted(context: Context, place: Span) -> tuple[Fix, ...]:
    """A full stop and a new sentence."""
    source = context.library.sources.get(place.path)
    found = _JOINED.fullmatch(text_at(source, place)) if source is not None else None
    return replaced("begin a new sentence", place, f". {found['verb'].capitalize()}") if found else ()
