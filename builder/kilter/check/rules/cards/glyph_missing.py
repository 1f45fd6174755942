"""A character that the typeface of the cards does not have."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.printed import printed
from kilter.check.rule import Context
from kilter.compute.typeface import missing, named
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.document import Document
from kilter.source import Span, unseen

CODE = "K802"
SEVERITY = Severity.ERROR

INSTEAD = {
    "⌀": "`dia.`",
    "∅": "`dia.` or `zero`",
    "№": "`No.`",
    "η": "`eta` or `efficiency`",
    "℃": "`°C`",
    "⚠": "a `:::{warning}` panel",
    "✔": "`✓`",
    "⇒": "`→`",
    "➔": "`→`",
}


def check(context: Context) -> Iterator[Diagnostic]:
    source = context.library.sources.get(context.document.path)
    if source is None or "&" in source.text or missing(source.text):
        yield from glyphs_of(context.document)


def glyphs_of(document: Document) -> list[Diagnostic]:
    """Of all that a card prints of a document; each finding once."""
    found = (each for place in printed(document) for each in missing_in(place.text, place.span))
    return list(dict.fromkeys(found))


def missing_in(text: str, span: Span) -> Iterator[Diagnostic]:
    """The characters of a text that can't be printed; those that nobody sees have a rule of their own."""
    for character in (c for c in missing(text) if not unseen(c)):
        better = INSTEAD.get(character)
        help = f"write {better}" if better else "say it in words or with another sign"
        message = f"the font of the cards has no {named(character)}"
        why = "on paper it would be a blank or a box, and a value could be read wrongly"
        yield error("glyph-missing", message, _narrowed(text, span, character), help, why=why)


def _narrowed(text: str, span: Span, character: str) -> Span:
    """The character alone where the span holds just the text, else all of the span."""
    if span.line != span.end_line or span.end_column - span.column != len(text) or character not in text:
        return span
    column = span.column + text.find(character)
    return Span(span.path, span.line, column, span.line, column + 1)
