"""What the panel rules share: the panels of a document, and the three parts of one.

A panel says the hazard (its bold lead), what happens, and how to avoid it (ANSI Z535.6 asks for the same three).
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.once import once
from kilter.check.prose import Sentence, sentences_in, sentences_of
from kilter.check.words import DAMAGE, HARM, MODALS
from kilter.diagnostic import Diagnostic, Fix, Severity
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.text import Panel, Paragraph, Styled, Text, paragraphs, plain


def all_panels(document: Document, stages: bool = True) -> Iterator[Panel]:
    """Every panel: of the document, of its stages (by choice) and of its steps."""
    yield from (b for b in document.blocks if isinstance(b, Panel))
    for stage in document.stages:
        if stages:
            yield from stage.panels
        for step in stage.steps:
            yield from step.panels


def hazard(panel: Panel) -> str | None:
    """The bold words that a panel opens with, None where it opens otherwise."""
    first = panel.blocks[0] if panel.blocks else None
    if not isinstance(first, Paragraph):
        return None
    runs = [r for r in first.runs if not (isinstance(r, Text) and not r.text.strip())]
    if not runs or not isinstance(runs[0], Styled) or runs[0].kind != "strong":
        return None
    return plain((runs[0],)) or None


@once(most=64)
def after_lead(panel: Panel) -> tuple[Sentence, ...]:
    """The sentences of a panel without its bold lead."""
    first, *rest = panel.blocks
    assert isinstance(first, Paragraph)
    at = next(n for n, r in enumerate(first.runs) if isinstance(r, Styled))
    return (*sentences_of(first.runs[at + 1 :]), *sentences_in(tuple(rest)))


def says_consequence(sentence: Sentence) -> bool:
    """Whether a sentence says what will, can or may happen, or names a harm; an instruction does not."""
    words = {w.casefold() for w in re.findall(r"[\w'’]+", sentence.text)}
    harm = words & (HARM | DAMAGE)
    return bool(words & MODALS and harm) if sentence.imperative else bool(words & MODALS or harm)


def panel_words(panel: Panel) -> str:
    """All words of a panel in lower case, without punctuation."""
    text = " ".join(plain(p.runs) for p in paragraphs(panel.blocks))
    return fold(re.sub(r"[^\w\s'’-]", " ", text))


def graded(
    rule: str, panel: Panel, message: str, help: str, *, sure: bool = True, fixes: tuple[Fix, ...] = ()
) -> Diagnostic:
    """An error where the panel guards people from energy and the part is surely missing, else a warning.

    Words are judged by lists, so a part that is there but in unusual words is never refused.
    """
    grave = sure and bool(panel.sources) and panel.word != "notice"
    severity = Severity.ERROR if grave else Severity.WARNING
    return Diagnostic(rule, severity, message, panel.word_span, help, fixes=fixes)
