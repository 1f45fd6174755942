"""Tightening by feeling, without a value or a reason."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.marked import shortened
from kilter.check.prose import Sentence, done_sentences
from kilter.check.rule import Context
from kilter.check.words import REASON, VAGUE_TORQUE
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K507"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for _, sentences in done_sentences(context.document):
        for number, sentence in enumerate(sentences):
            found = VAGUE_TORQUE.search(sentence.text)
            if found is None or REASON.search(sentence.text) or _valued(sentences[number:]):
                continue
            message = f"a vague torque: `{shortened(found.group().strip())}`"
            help = (
                "write the value: {torque}`5 ± 0.5 N·m`; or the reason, such as `so that it can still slide`"
            )
            yield warning("vague-torque", message, sentence.place(found.start(), found.end()), help)


def _valued(sentences: tuple[Sentence, ...]) -> bool:
    """Whether a value follows, here or later in the step: a nut may be run up by hand first."""
    return any({"torque", "set"} & s.marks for s in sentences)
