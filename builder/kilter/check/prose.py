"""Sentences of the running text, with their places; a mark or a piece of code in them is one word."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from kilter.check.grammar import imperative_at
from kilter.check.once import once
from kilter.check.words import ABBREVIATIONS
from kilter.compute.units import find_unit
from kilter.model.document import Document, Step
from kilter.model.text import (
    Block,
    Calculation,
    Code,
    Figure,
    Link,
    Panel,
    Paragraph,
    Role,
    Run,
    Styled,
    Text,
    paragraphs,
    plain,
)
from kilter.source import Span

MARK = "\ufffc"
"""Stands for a mark, or for words set as code."""

_END = re.compile(r"[.!?]+[\"'”’)]*(?=\s|$)")
_NEXT = re.compile(rf"\s*[A-Z0-9\"'“‘({MARK}]|\s*$")
_REFERENCE = re.compile(rf"\([\s,{MARK}]*\)")
_NUMBER = re.compile(r"[±≥≤<>+−–-]?[0-9][0-9.,–−-]*")
_SAYS = re.compile(rf"[^\W_]|{MARK}")
"""A letter, a digit or a mark: without one there is no word."""
_NOTE = re.compile(r"(?i)\s*(?:notes?\s*:|n\.?b\.?\s*:?\s)")
_EDGES = ".,;:!?()\"'“”‘’"


@dataclass(frozen=True)
class Sentence:
    """One sentence of a paragraph."""

    text: str
    """Marks and code as `MARK`."""
    start: int
    line: _Line

    @cached_property
    def words(self) -> tuple[str, ...]:
        """As they are counted: a number with its unit is one, a bracket with nothing but marks is none."""
        kept: list[str] = []
        for token in _REFERENCE.sub(" ", self.text).split():
            word = token.strip(_EDGES)
            if not (word.isalnum() or _SAYS.search(word)):
                continue
            if kept and _NUMBER.fullmatch(kept[-1]) and find_unit(word):
                kept[-1] += " " + word
            else:
                kept.append(word)
        return tuple(kept)

    def longer_than(self, most: int) -> bool:
        """Whether it has more words than that; where letters and blanks are too few, none is counted."""
        return len(self.text) > 2 * most and len(self.words) > most

    @cached_property
    def roles(self) -> tuple[Role, ...]:
        end = self.start + len(self.text)
        return tuple(r for at, _, r in self.line.pieces if isinstance(r, Role) and self.start <= at < end)

    @cached_property
    def marks(self) -> frozenset[str]:
        """The names of the marks in it."""
        return frozenset(r.name for r in self.roles)

    @cached_property
    def imperative(self) -> bool:
        """Whether it tells the reader to do something."""
        return imperative_at(self.text) is not None

    @property
    def span(self) -> Span:
        return self.place(0, len(self.text))

    def place(self, start: int, end: int) -> Span:
        """Where characters `start` to `end` of the sentence stand."""
        first = self.line.place(self.start + start)
        last = self.line.place(self.start + max(start, end - 1))
        return Span(first.path, first.line, first.column, last.end_line, last.end_column)


@dataclass(frozen=True)
class _Line:
    """The flattened runs of a paragraph."""

    text: str
    pieces: tuple[tuple[int, str, Run], ...]

    def place(self, at: int) -> Span:
        """Where one character stands: in plain words exactly, else the whole run."""
        start, words, run = next(p for p in reversed(self.pieces) if p[0] <= at)
        span = run.span
        if (
            isinstance(run, Text)
            and span.line == span.end_line
            and span.end_column - span.column == len(words)
        ):
            column = span.column + at - start
            return Span(span.path, span.line, column, span.line, column + 1)
        return span


def _pieces(runs: tuple[Run, ...]) -> Iterator[tuple[str, Run]]:
    for run in runs:
        if isinstance(run, Text):
            yield run.text, run
        elif isinstance(run, (Role, Code)):
            yield MARK, run
        elif isinstance(run, (Styled, Link)):
            yield from _pieces(run.runs)
        else:
            yield " ", run


def _flat(runs: tuple[Run, ...]) -> _Line:
    at, pieces = 0, []
    for words, run in _pieces(runs):
        if words:
            pieces.append((at, words, run))
            at += len(words)
    return _Line("".join(words for _, words, _ in pieces), tuple(pieces))


def sentences_of(runs: tuple[Run, ...]) -> tuple[Sentence, ...]:
    """The sentences of one paragraph."""
    line, found, start = _flat(runs), [], 0
    for match in _END.finditer(line.text):
        if _ends(line.text, match):
            found += _sentence(line, start, match.end())
            start = match.end()
    return (*found, *_sentence(line, start, len(line.text)))


def _sentence(line: _Line, start: int, end: int) -> list[Sentence]:
    words = line.text[start:end]
    start += len(words) - len(words.lstrip())
    return [Sentence(words.strip(), start, line)] if _SAYS.search(words) else []


def _ends(text: str, match: re.Match[str]) -> bool:
    """Whether a point ends a sentence: not after an abbreviation, not before a small letter."""
    if not _NEXT.match(text, match.end()):
        return False
    if match.group()[0] != ".":
        return True
    before = text[: match.start()].rsplit(maxsplit=1)
    word = before[-1].lstrip("(\"'“‘").casefold() if before else ""
    last_word = match.end() == len(text.rstrip())
    return last_word or word not in ABBREVIATIONS


@once(most=512)
def sentences_in(blocks: tuple[Block, ...]) -> tuple[Sentence, ...]:
    """The sentences of blocks; panels, figures and calculations are read by themselves."""
    kept = tuple(b for b in blocks if not isinstance(b, (Panel, Figure, Calculation)))
    return tuple(s for p in paragraphs(kept) for s in sentences_of(p.runs))


def step_sentences(step: Step) -> tuple[Sentence, ...]:
    """The sentences of a step's instruction."""
    return sentences_in(step.blocks)


def is_note(paragraph: Paragraph) -> bool:
    """Whether a paragraph calls itself a note: `Note:` or **Note**; "Note the reading" is an instruction."""
    first = paragraph.runs[0] if paragraph.runs else None
    if isinstance(first, Styled) and plain(first.runs).strip(" .:").casefold() in ("note", "notes"):
        return True
    opening = next((words for words, _ in _pieces(paragraph.runs) if words.strip()), "")
    return opening.lstrip()[:1] in ("n", "N") and _NOTE.match(_flat(paragraph.runs).text) is not None


@once(most=4)
def all_sentences(document: Document) -> tuple[Sentence, ...]:
    """Every sentence of a document in reading order: also those of panels and introductions."""
    found: list[Sentence] = []
    for blocks in document.all_blocks():
        found += sentences_in(blocks)
        for block in blocks:
            if isinstance(block, Panel):
                found += sentences_in(block.blocks)
    return tuple(found)


@once(most=4)
def done_sentences(document: Document) -> tuple[tuple[Step, tuple[Sentence, ...]], ...]:
    """The steps with the sentences of their instructions."""
    return tuple((step, step_sentences(step)) for _, step in document.all_steps())
