"""Inline tokens to runs, each with its place.

The parser tells rows but no columns. Each line of an inline token is looked for in its row, after what
that row has already given (the cells of a table share one); inside the line the tokens are followed
one after the other. Where a place can't be found it is the whole row.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable
from typing import Literal, NamedTuple
from unicodedata import normalize
from urllib.parse import unquote

from markdown_it.token import Token

from kilter.diagnostic import did_you_mean
from kilter.model.document import ROLES
from kilter.model.text import Break, Code, Link, Name, Role, Run, Styled, Text
from kilter.read.cures import inserted, replaced, spelt, text_at
from kilter.read.notes import Notes
from kilter.source import Span, unseen

STRAY = re.compile(r"\{[^{}\s][^{}]*\}")
BRACE_MARKS = ("shared", "not-zero", "not-ok")
_QUOTES = re.compile(r"`+")


class Inlines:
    """Reads the inline tokens of one file."""

    def __init__(self, notes: Notes) -> None:
        self.notes = notes
        self._given: dict[int, int] = {}
        """Row to the column up to which its text has been handed out."""

    def runs(self, token: Token, offset: int) -> tuple[Run, ...]:
        """The runs of an inline token whose rows start at `offset` in the file."""
        if token.map is None or not token.children:
            return ()
        return _Walk(self, token, offset + token.map[0]).all()

    def place(self, row: int, line: str) -> int | None:
        """The column at which a line of an inline token stands in its row."""
        column = self.notes.source.row(row).find(line, self._given.get(row, 0))
        if column < 0:
            return None
        self._given[row] = column + len(line)
        return column


class _Line(NamedTuple):
    """One line of an inline token."""

    row: int
    end: int
    """Where it ends in the token's content."""
    shift: int | None
    """What turns an offset into the content into a 1-based column; None where the line was not found."""


class _Walk:
    def __init__(self, owner: Inlines, token: Token, first_row: int) -> None:
        self.notes, self.content = owner.notes, token.content
        self.tokens = token.children or []
        self.cursor, self.at = 0, 0
        self._lines: list[_Line] = []
        self._starts: list[int] = []
        start = 0
        for row, line in enumerate(self.content.split("\n"), first_row):
            column, end = owner.place(row, line), start + len(line)
            self._starts.append(start)
            self._lines.append(_Line(row, end, None if column is None else column + 1 - start))
            start = end + 1

    def all(self) -> tuple[Run, ...]:
        runs: list[Run] = []
        while self.at < len(self.tokens):
            runs += self._one(None)
        return tuple(runs)

    def _until(self, closing: str) -> tuple[Run, ...]:
        runs: list[Run] = []
        while self.at < len(self.tokens) and self.tokens[self.at].type != closing:
            runs += self._one(closing)
        return tuple(runs)

    def _one(self, closing: str | None) -> list[Run]:
        token = self.tokens[self.at]
        self.at += 1
        match token.type:
            case "text":
                return self._text(token.content)
            case "text_special":
                start, end = self._seek(token.markup or token.content)
                if token.info == "entity" and any(map(unseen, token.content)):
                    message = f"`{token.markup}` stands for a character that nobody sees"
                    place = self._span(start, end)
                    found = text_at(self.notes.source, place) == token.markup
                    cure = replaced("delete it", place, "", alone=True) if found else ()
                    self.notes.error("control-character", message, place, "delete it", cure)
                return [Text(text=token.content, span=self._span(start, end))]
            case "softbreak" | "hardbreak":
                start, end = self._seek("\n")
                span = self._span(start, start)
                return [Break(span=span)] if token.type == "hardbreak" else [Text(text=" ", span=span)]
            case "code_inline":
                start, end = self._code(token)
                return [Code(text=token.content, span=self._span(start, end))]
            case "strong_open" | "em_open":
                return [self._styled(token)]
            case "link_open":
                return [self._link(token)]
            case "myst_role":
                return self._role(token)
            case "html_inline":
                return self._html(token)
            case "image":
                start, end = self._seek("![")
                help = "write it as a figure: `:::{figure} picture.png`, its `:alt:`, and `:::`"
                self.notes.error(
                    "inline-picture", "a picture inside a sentence", self._span(start, end), help
                )
                return []
        return []

    def _text(self, words: str) -> list[Run]:
        if not words:
            return []
        start, end = self._seek(words)
        return [Text(text=words, span=self._span(start, end))]

    def _styled(self, token: Token) -> Run:
        kind: Literal["strong", "emphasis"] = "strong" if token.type == "strong_open" else "emphasis"
        start, _ = self._seek(token.markup)
        inner = self._until(token.type.replace("_open", "_close"))
        self.at += 1
        _, end = self._seek(token.markup)
        return Styled(kind=kind, runs=inner, span=self._span(start, end))

    def _link(self, token: Token) -> Run:
        href = unquote(str(token.attrGet("href") or ""))
        auto = token.markup == "autolink"
        start, _ = self._seek("<" if auto else "[")
        inner = self._until("link_close")
        self.at += 1
        if auto:
            _, end = self._seek(">")
            span = self._span(start, end)
            return Link(target=href, runs=inner, span=span, target_span=span)
        _, opened = self._seek("]")
        closed = self.content.find(")", self.cursor)
        where = self.content.find(href, opened) if href else -1
        if closed < 0 or (where >= 0 and where + len(href) > closed):
            closed = self.content.find(")", where + len(href)) if where >= 0 else -1
        end = closed + 1 if closed >= 0 else opened
        self.cursor = max(self.cursor, end)
        target = self._span(where, where + len(href)) if 0 <= where < end else self._span(start, end)
        place = self._span(start, end)
        return Link(target=normalize("NFC", href), runs=inner, span=place, target_span=target)

    def _role(self, token: Token) -> list[Run]:
        name = str(token.meta["name"])
        start, opened = self._seek("{" + name + "}`")
        closing = _QUOTES.search(self.content, opened)
        while opened < len(self.content) and self.content[opened] == "`":
            opened += 1
        inner = token.content.strip("`") if token.content.startswith("`") else token.content
        at = self.content.replace("\n", " ").find(inner, opened)
        at = opened if at < 0 else at
        end = self.content.find("`", at + len(inner))
        end = end + 1 if end >= 0 else at + len(inner)
        while end < len(self.content) and self.content[end] == "`":
            end += 1
        self.cursor = max(self.cursor, end)
        span, text_span = self._span(start, end), self._span(at, at + len(inner))
        if name not in ROLES:
            self._unknown_role(name, span, bool(closing))
            return [Text(text=inner, span=span)]
        if not inner.strip():
            self.notes.error(
                "empty-mark",
                f"mark `{{{name}}}` holds nothing",
                span,
                f"write {_EXAMPLES.get(name, 'its name')}",
            )
        return [
            Role(name=name, text=inner.strip(), names=self._names(inner, at), span=span, text_span=text_span)
        ]

    def _unknown_role(self, name: str, span: Span, closed: bool) -> None:
        if name in BRACE_MARKS:
            help = f"`{{{name}}}` takes no back-quotes: write it plain, after a heading or an answer"
        else:
            help = did_you_mean(name, ROLES)
        cure = spelt(self.notes.source, _word(span, len(name)), name, ROLES, alone=True)
        self.notes.error("unknown-role", f"mark `{{{name}}}` is not known", span, help, cure)

    def _names(self, inner: str, at: int) -> tuple[Name, ...]:
        return split_names(inner, lambda a, b: self._span(at + a, at + b))

    def _html(self, token: Token) -> list[Run]:
        start, end = self._seek(token.content)
        if not token.content.startswith("<!--"):
            help = "write it in Markdown; put a real `<` as `\\<`"
            place, message = self._span(start, end), f"HTML is not allowed: `{token.content[:40]}`"
            found = text_at(self.notes.source, place) == token.content
            cure = inserted("show it as text: `\\<`", place, "\\") if found else ()
            self.notes.error("raw-html", message, place, help, cure)
        return []

    def _code(self, token: Token) -> tuple[int, int]:
        start, _ = self._seek(token.markup)
        _, _ = self._seek(token.content)
        _, end = self._seek(token.markup)
        return start, end

    def _seek(self, literal: str) -> tuple[int, int]:
        """Where the literal stands next; the cursor moves behind it. Not found: it stays, empty stretch."""
        at = self.content.find(literal, self.cursor)
        if at < 0:
            return self.cursor, self.cursor
        self.cursor = at + len(literal)
        return at, self.cursor

    def _span(self, start: int, end: int) -> Span:
        end = max(start, end)
        first = self._line(start)
        last = first if end <= first.end else self._line(end)
        source = self.notes.source
        if first.shift is None or last.shift is None:
            return source.whole_row(first.row)
        return Span(source.path, first.row + 1, first.shift + start, last.row + 1, last.shift + end)

    def _line(self, offset: int) -> _Line:
        return self._lines[bisect_right(self._starts, offset) - 1]


def _word(span: Span, length: int) -> Span:
    """The name of a mark inside its braces."""
    return Span(span.path, span.line, span.column + 1, span.line, span.column + 1 + length)


def split_names(text: str, span_of: Callable[[int, int], Span]) -> tuple[Name, ...]:
    """The names between commas, blanks around them left out; `span_of(start, end)` gives a place."""
    names, at = [], 0
    for part in text.split(","):
        word = part.strip()
        if word:
            begin = at + part.index(word)
            names.append(Name(text=word, span=span_of(begin, begin + len(word))))
        at += len(part) + 1
    return tuple(names)


_EXAMPLES = {
    "torque": "a value such as {torque}`22 ± 2 N·m`",
    "set": "a value such as {set}`7.9 ± 0.1 mm`",
    "read": "a limit such as {read}`≥ 24.0 V`",
    "wait": "a time such as {wait}`5 min`",
    "isolates": "the source's name, such as {isolates}`mains`",
}
