"""Walks over a document that several rules share: its links, its marks, and names that should be known."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from kilter.check.fixes import name_spelt
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Label, Severity, did_you_mean, nearest
from kilter.model.base import fold
from kilter.model.document import Document, Field, Stage, Step
from kilter.model.front import Places
from kilter.model.text import Link, Name, Panel, Role
from kilter.read.blanks import BLANK_MARK
from kilter.read.cures import end_of, inserted
from kilter.read.fields import names_of
from kilter.source import Span

_DASH = re.compile(r"\s+[-–—]\s+")


def links(document: Document) -> Iterator[tuple[Stage | None, Step | None, Link]]:
    """Links in running text; the links of answers are not among them."""
    yield from document.all_links


def marks(document: Document, *names: str) -> Iterator[Role]:
    """Marks of the given names wherever they stand, also in panels, captions and answers."""
    yield from (r for r in document.all_roles if r.name in names)


def panels(document: Document) -> Iterator[Panel]:
    """Every panel of a document."""
    for blocks in document.all_blocks():
        yield from (b for b in blocks if isinstance(b, Panel))


def fields(document: Document, *names: str) -> Iterator[Field]:
    """Fields of the given names, of stages and of steps."""
    yield from (f for f in document.all_fields if f.name in names)


def before_dash(field: Field) -> Field:
    """The field with its value cut at the dash that begins the reason."""
    head = _DASH.split(field.value, maxsplit=1)[0]
    return field.replace(value=head)


def names_before_dash(field: Field, skip: str = "") -> tuple[Name, ...]:
    """The comma-separated names before the reason, without a leading word."""
    names = names_of(before_dash(field))
    if not skip or not names:
        return names
    first = names[0]
    rest = first.text[len(skip) :].strip()
    if not rest:
        return names[1:]
    span = first.span
    begin = span.column + first.text.index(rest, len(skip))
    whole = span.line != span.end_line
    place = span if whole else Span(span.path, span.line, begin, span.line, span.end_column)
    return (Name(text=rest, span=place), *names[1:])


def key_place(places: Places, *loc: str | int) -> Span:
    """Where a value stands whose keys may be written with blanks instead of hyphens."""
    if places.known(*loc):
        return places.of(*loc)
    return places.of(*(part.replace("-", " ") if isinstance(part, str) else part for part in loc))


def source_key(context: Context, name: str, beside: str, key: str, asked: str) -> tuple[Fix, ...]:
    """A key with a blank behind one that a source has, in the form that the source is written in."""
    places, source = context.document.places, context.library.sources.get(context.document.path)
    at, after = places.key("sources", name, beside), key_place(places, "sources", name, beside)
    if source is None or not places.known("sources", name, beside) or at.line != after.end_line:
        return ()
    before = source.row(at.line - 1)[: at.column - 1]
    join = ", " if before.strip() else f"\n{before}"
    return inserted(f"leave a blank for `{key}`", end_of(after), f'{join}{key}: "{BLANK_MARK}: {asked}]"')


def unknown_name(
    rule: str, severity: Severity, what: str, name: Name, known: Iterable[str], context: Context, key: str
) -> Diagnostic | None:
    """A finding if a name is none of the known ones; `key` is where the profile lists them."""
    known = list(known)
    if fold(name.text) in map(fold, known):
        return None
    assert context.profile is not None and context.equipment is not None
    where = "" if context.document is context.profile else f" of `{context.equipment.id}`"
    related: tuple[Label, ...] = ()
    if context.document is not context.profile and context.profile.places.known(key):
        related = (Label(context.profile.places.key(key), f"the profile lists its {key} here"),)
    message = f"{what} `{name.text}` is not in the profile{where}"
    cure = name_spelt(context.library, name.span, name.text, known)
    help = did_you_mean(name.text, known)
    return Diagnostic(rule, severity, message, name.span, help, related=related, fixes=cure)


def near(word: str, known: Iterable[str], otherwise: str) -> str:
    """Help text: the near miss, else the given advice, for lists too long to be shown."""
    close = nearest(word, known)
    return f"did you mean `{close}`?" if close is not None else otherwise
