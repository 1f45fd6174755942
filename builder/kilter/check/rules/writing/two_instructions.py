"""Two instructions in one sentence (ASD-STE100)."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.grammar import second_instruction
from kilter.check.prose import done_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, hint

CODE = "K503"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    for _, sentences in done_sentences(context.document):
        for sentence in sentences:
            found = second_instruction(sentence.text)
            if found is not None:
                message = "two instructions in one sentence"
                help = "begin a new sentence here, or say that both are done at once (`while`, `at the same time`)"
                yield hint("two-instructions", message, sentence.place(*found), help)
