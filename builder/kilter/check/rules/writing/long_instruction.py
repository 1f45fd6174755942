"""An instruction of more than 20 words (ASD-STE100)."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.prose import all_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K501"
SEVERITY = Severity.WARNING
MOST = 20


def check(context: Context) -> Iterator[Diagnostic]:
    for sentence in all_sentences(context.document):
        if sentence.longer_than(MOST) and sentence.imperative:
            message = f"an instruction of {len(sentence.words)} words, the most is {MOST}"
            help = "split it: one thing to do in each sentence; a marked value or name counts as one word"
            yield warning("long-instruction", message, sentence.span, help)
