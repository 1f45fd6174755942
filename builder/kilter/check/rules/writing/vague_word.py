"""A word that leaves an amount, or whether to do it, to the reader."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.prose import Sentence, done_sentences
from kilter.check.rule import Context
from kilter.check.words import ABOUT, REASON, VAGUE_AMOUNT, VAGUE_CASE
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.document import VALUES

CODE = "K508"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for _, sentences in done_sentences(context.document):
        for sentence in sentences:
            for found in _vague(sentence):
                message = f"a vague word: `{found.group().strip()}`"
                help = "write the value and how far off it may be, or what to look at to decide"
                yield warning("vague-word", message, sentence.place(found.start(), found.end()), help)


def _vague(sentence: Sentence) -> Iterator[re.Match[str]]:
    """The vague words that neither a value nor a reason in the sentence makes good."""
    yield from ABOUT.finditer(sentence.text)
    found = list(VAGUE_CASE.finditer(sentence.text))
    if sentence.marks.isdisjoint(VALUES):
        found += (
            f for f in VAGUE_AMOUNT.finditer(sentence.text) if not ABOUT.match(sentence.text, f.start())
        )
    if found and not REASON.search(sentence.text):
        yield from found
