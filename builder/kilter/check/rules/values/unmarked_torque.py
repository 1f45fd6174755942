"""A tightening torque that stands in the text without its mark."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.marked import shortened
from kilter.check.prose import Sentence, done_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K340"
SEVERITY = Severity.WARNING

_UNIT = r"(?:[cm]?N\s?[·⋅.*]?\s?m|N\s?[·⋅]?\s?cm|lbf?\s?[·⋅-]?\s?(?:in|ft)|(?:in|ft)\s?[·⋅-]\s?lbf?|kgf\s?[·⋅]?\s?cm|ozf\s?[·⋅]?\s?in)"
_TORQUE = re.compile(rf"(?<![\w`.])\d+(?:\.\d+)?(?:\s?(?:±|\+/-|[–-])\s?\d+(?:\.\d+)?)?\s?{_UNIT}(?![\w`])")


def check(context: Context) -> Iterator[Diagnostic]:
    for _, sentences in done_sentences(context.document):
        for sentence in sentences:
            found = _TORQUE.search(sentence.text)
            if found is not None:
                yield _told(sentence, found[0])


def _told(sentence: Sentence, said: str) -> Diagnostic:
    message = f"`{shortened(said)}` is a torque without its mark"
    help = (
        f"write {{torque}}`{said}` with its tolerance, such as `22 ± 2 N·m`; only a marked value is checked"
    )
    return warning("unmarked-torque", message, sentence.span, help)
