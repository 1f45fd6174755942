"""A step that tells what is done instead of what to do (ASD-STE100)."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.prose import done_sentences
from kilter.check.rule import Context
from kilter.check.words import PASSIVE
from kilter.diagnostic import Diagnostic, Severity, hint

CODE = "K504"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    for _, sentences in done_sentences(context.document):
        for sentence in sentences:
            found = None if sentence.imperative else PASSIVE.search(sentence.text)
            if found is not None:
                message = f"not an instruction: `{found.group().strip()}`"
                help = "tell the reader what to do: begin with the verb, such as `Undo the screws.`"
                yield hint("not-imperative", message, sentence.place(found.start(), found.end()), help)
