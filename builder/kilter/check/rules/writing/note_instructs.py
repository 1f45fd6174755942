"""A note that holds an instruction (ASD-STE100)."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.grammar import imperative_at
from kilter.check.prose import is_note, sentences_of
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, hint
from kilter.model.text import paragraphs

_LEAD = re.compile(r"(?i)^\W*(?:notes?|n\.?b\.?)\s*[:.]?\W*")

CODE = "K506"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    for blocks in context.document.all_blocks():
        for paragraph in paragraphs(blocks):
            sentences = sentences_of(paragraph.runs) if is_note(paragraph) else ()
            told = next((s for s in sentences if imperative_at(_LEAD.sub("", s.text)) is not None), None)
            if told is not None:
                help = (
                    "write the instruction as a step's sentence, and leave the note for what is good to know"
                )
                yield hint("note-instructs", "a note that tells people to do something", told.span, help)
