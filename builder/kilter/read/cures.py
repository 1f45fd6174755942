"""Fixes that are made in several places: a name spelt right, a stretch replaced, rows taken out.

A fix is only given where the text that it replaces surely stands: a place that could not be found
exactly is a whole row, and must not be written over.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import SequenceMatcher

from kilter.diagnostic import Edit, Fix, nearest
from kilter.source import Source, Span

CERTAIN = 0.8
"""Share of letters in common from which a slip of the pen is certain; by judgement, no source."""
CLEARLY = 0.1
"""By how much the next best name has to be further off."""
_PROOF = """
    isolates releases proves restores loads runs-on removes refits all-clear tests wait not-zero not-ok shared
    hands zone clear-of do go-to exit danger warning caution notice
    equipment sources none guards zones before-service kind lockable fed-by charged-by release bleed release-from
    prove-from reaccumulates loaded-by needs word outside inside action true false
    """
PROOF_WORDS = frozenset(_PROOF.split())
"""Marks, fields, panels and keys that the proof about energy stands on: a person looks at each."""


def text_at(source: Source, span: Span) -> str:
    """What stands in a place; empty where it covers several rows."""
    return source.row(span.line - 1)[span.column - 1 : span.end_column - 1] if one_row(span) else ""


def one_row(span: Span) -> bool:
    return span.line == span.end_line


def exact(source: Source | None, span: Span, word: str) -> Span | None:
    """Where a word stands in a place, without quotes around it; None where that can't be told."""
    if source is None or not word or not one_row(span):
        return None
    found = text_at(source, span)
    if found == word:
        return span
    if found[:1] in ('"', "'") and found[1:-1] == word and found[-1:] == found[:1]:
        return source.in_row(span.line - 1, span.column, span.end_column - 2)
    if found.count(word) == 1 and not _inside_a_word(found, word):
        at = span.column - 1 + found.index(word)
        return source.in_row(span.line - 1, at, at + len(word))
    return None


def _inside_a_word(text: str, word: str) -> bool:
    at = text.index(word)
    around = text[at - 1 : at] + text[at + len(word) : at + len(word) + 1]
    return any(sign.isalnum() for sign in around)


def certain(word: str, known: Iterable[str]) -> bool:
    """Whether one of the known names is nearest by far."""
    wanted = word.casefold()
    shares = sorted((SequenceMatcher(None, wanted, k.casefold()).ratio() for k in set(known)), reverse=True)
    return bool(shares) and shares[0] >= CERTAIN and shares[0] - max([0.0, *shares[1:2]]) >= CLEARLY


def spelt(
    source: Source | None, span: Span, word: str, known: Iterable[str], alone: bool = False
) -> tuple[Fix, ...]:
    """The near miss of a word of the format put right; `alone` where nothing about energy stands on it."""
    known = list(known)
    same = written_otherwise(word, known)
    near = same or nearest(word, known)
    if near is None:
        return ()
    sure = alone and near not in PROOF_WORDS and certain(word, known)
    return put(source, span, word, near, bool(same) or sure)


def written_otherwise(word: str, known: Iterable[str]) -> str | None:
    """The one known word of the same letters: `Zone` for `zone`, `NotOk` for `not-ok`.

    Nothing else can have been meant, so it says nothing new about energy either.
    """
    wanted = _letters(word)
    found = {k for k in known if _letters(k) == wanted}
    return found.pop() if wanted and len(found) == 1 else None


def _letters(word: str) -> str:
    """Without case, hyphens and spaces; empty where there is more in it than letters, as in a file's name."""
    return re.sub("[-_ ]", "", word).casefold() if re.fullmatch("[A-Za-z][A-Za-z_ -]*", word) else ""


def put(source: Source | None, span: Span, word: str, right: str, alone: bool = False) -> tuple[Fix, ...]:
    """A certain word in the place of another."""
    place = exact(source, span, word)
    if place is None or word == right:
        return ()
    return (Fix(f"write `{right}`", (Edit(place, right),), alone=alone),)


def replaced(title: str, span: Span, text: str, alone: bool = False) -> tuple[Fix, ...]:
    """A stretch and what takes its place."""
    return (Fix(title, (Edit(span, text),), alone=alone),)


def inserted(title: str, at: Span, text: str, alone: bool = False) -> tuple[Fix, ...]:
    """A text set in at the start of a place; it leaves a blank if it holds one."""
    return (Fix(title, (Edit(start_of(at), text),), alone=alone, leaves_blank="[fill in" in text),)


def start_of(span: Span) -> Span:
    return Span(span.path, span.line, span.column, span.line, span.column)


def end_of(span: Span) -> Span:
    return Span(span.path, span.end_line, span.end_column, span.end_line, span.end_column)


def line_start(span: Span) -> Span:
    """The first column of the row that a place begins in."""
    return Span(span.path, span.line, 1, span.line, 1)


def without_rows(source: Source, span: Span) -> Span:
    """The rows of a place with one line end, so that nothing is left of them."""
    last = len(source.lines)
    if span.end_line < last:
        return Span(span.path, span.line, 1, span.end_line + 1, 1)
    if span.line == 1:
        return Span(span.path, 1, 1, last, len(source.lines[-1]) + 1)
    before = len(source.lines[span.line - 2]) + 1
    return Span(span.path, span.line - 1, before, last, len(source.lines[-1]) + 1)
