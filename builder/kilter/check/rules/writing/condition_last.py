"""An instruction whose condition stands behind it (ASD-STE100)."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.grammar import condition_after
from kilter.check.prose import done_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, hint

CODE = "K505"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    for _, sentences in done_sentences(context.document):
        for sentence in sentences:
            found = condition_after(sentence.text)
            if found is not None:
                word = sentence.text[found[0] : found[1]]
                message = f"the condition comes after the instruction: `{word}`"
                help = f"put it first: `{word.capitalize()} ..., do ...`; or make answers of it"
                yield hint("condition-last", message, sentence.place(*found), help)
