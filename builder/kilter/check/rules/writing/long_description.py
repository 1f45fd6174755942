"""A sentence that describes, of more than 25 words (ASD-STE100)."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.prose import all_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, hint

CODE = "K502"
SEVERITY = Severity.HINT
MOST = 25


def check(context: Context) -> Iterator[Diagnostic]:
    for sentence in all_sentences(context.document):
        if sentence.longer_than(MOST) and not sentence.imperative:
            message = f"a sentence of {len(sentence.words)} words, the most is {MOST}"
            yield hint("long-description", message, sentence.span, "split it, or make a list of it")
