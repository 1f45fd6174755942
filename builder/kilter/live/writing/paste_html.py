"""Text pasted with its formatting (HTML from the clipboard), cut into the same blocks as plain text."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from functools import partial
from html.parser import HTMLParser

from kilter.live.writing.blocks import Block, blocks_of_plain
from kilter.live.writing.plain import prose, tidied

_BREAKS = frozenset(
    [
        "p",
        "div",
        "section",
        "article",
        "header",
        "footer",
        "li",
        "ul",
        "ol",
        "h1",
        "h2",
        "h3",
        "h4",
        "h5",
        "h6",
        "table",
        "thead",
        "tbody",
        "tr",
        "td",
        "th",
        "body",
        "blockquote",
        "pre",
        "dl",
        "dt",
        "dd",
        "hr",
        "caption",
    ]
)
_DECLARED = re.compile(r"<!(?!--)[^>]*>")
"""Conditions and document types of word processors; the parser of the library raises for some of them."""
_UNSEEN = frozenset(["script", "style", "title"])
_LOUD = {"b": "**", "strong": "**", "i": "*", "em": "*"}


def blocks_of_html(text: str) -> list[Block]:
    """Blocks of HTML; never raises for what is in it."""
    reader = _Reader()
    reader.feed(_DECLARED.sub(" ", text).replace("<!", "&lt;!").replace("&lt;!--", "<!--"))
    reader.close()
    reader.finish()
    return reader.found


@dataclass
class _List:
    ordered: bool
    count: int = 0


@dataclass
class _Table:
    rows: list[list[str]] = field(default_factory=list)


class _Reader(HTMLParser):
    """Walks the tags once; what is open decides what the words between them become."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[Block] = []
        self._words: list[str] = []
        self._loud: list[str] = []
        self._lists: list[_List] = []
        self._tables: list[_Table] = []
        self._heading = 0
        self._item = False
        self._hidden = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _UNSEEN:
            self._hidden += 1
        elif tag == "br":
            self._words.append("\n")
        elif tag in _LOUD:
            self._mark(_LOUD[tag])
        elif tag in _BREAKS:
            self.flush()
            self._open(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in _UNSEEN:
            self._hidden = max(0, self._hidden - 1)
        elif tag == "br":
            self._words.append("\n")
        elif tag in _LOUD:
            self._mark(_LOUD[tag])
        elif tag in _BREAKS:
            self.flush()
            self._close(tag)

    def handle_data(self, data: str) -> None:
        if not self._hidden:
            self._words.append(re.sub(r"[\r\n\ue001\ue002]", " ", data))

    def _mark(self, mark: str) -> None:
        if not self._hidden:
            self._words.append("\ue001" if mark == "**" else "\ue002")

    def _open(self, tag: str) -> None:
        if tag in ("ul", "ol"):
            self._lists.append(_List(tag == "ol"))
        elif tag == "li":
            self._item = True
            if self._lists:
                self._lists[-1].count += 1
        elif re.fullmatch("h[1-6]", tag):
            self._heading = int(tag[1])
        elif tag == "table":
            self._tables.append(_Table())
        elif tag == "tr" and self._tables:
            self._tables[-1].rows.append([])

    def _close(self, tag: str) -> None:
        if tag in ("ul", "ol") and self._lists:
            self._lists.pop()
        elif tag == "li":
            self._item = False
        elif re.fullmatch("h[1-6]", tag):
            self._heading = 0
        elif tag == "table" and self._tables:
            self._end_table()

    def _end_table(self) -> None:
        rows = tuple(tuple(r) for r in self._tables.pop().rows if r)
        if rows:
            self.found.append(Block("table", "", rows=rows))

    def finish(self) -> None:
        """End what the text left open."""
        self.flush()
        while self._tables:
            self._end_table()

    def flush(self) -> None:
        """Make a block of the words gathered so far."""
        raw, self._words = "".join(self._words), []
        text = "\n".join(" ".join(row.split()) for row in _kept_marks(raw).split("\n")).strip()
        bare = " ".join(text.replace("\ue001", "").replace("\ue002", "").split())
        if not bare:
            return
        if self._tables and self._tables[-1].rows:
            self._tables[-1].rows[-1].append(bare)
        else:
            self.found += self._blocks(text, bare)

    def _blocks(self, text: str, bare: str) -> list[Block]:
        if self._heading:
            return [Block("heading", bare, level=self._heading)]
        if self._item and self._lists:
            self._item = False
            return [self._listed(text)]
        plain = blocks_of_plain(text.replace("\ue001", "").replace("\ue002", ""))
        if len(plain) == 1 and plain[0].kind == "words":
            return [Block("words", _loud(text), ready=True)]
        return [replace(b, kind="words") if b.kind == "heading" and b.level == 1 else b for b in plain]

    def _listed(self, text: str) -> Block:
        top = self._lists[-1]
        if top.ordered and len(self._lists) == 1:
            return Block("step", _loud(text), label=str(top.count), ready=True)
        return Block("item", _loud(text), level=len(self._lists), ready=True)


def _kept_marks(raw: str) -> str:
    """Unseen signs go, but for the two that stand for bold and italic."""
    return "".join(p if p in ("\ue001", "\ue002") else tidied(p) for p in re.split("([\ue001\ue002])", raw))


def _loud(text: str) -> str:
    """Markdown of words with signs for bold and italic; a mark that does not close on its row is dropped."""
    rows = (_row(row) for row in text.split("\n"))
    return "\n".join(row for row in rows if row)


def _row(row: str) -> str:
    safe = prose(row)
    for sign, mark in (("\ue001", "**"), ("\ue002", "*")):
        pair = rf"{sign}(\s*)([^{sign}]*?)(\s*){sign}"
        safe = re.sub(pair, partial(_around, mark), safe).replace(sign, "")
    return safe


def _around(mark: str, match: re.Match[str]) -> str:
    before, words, after = match.groups()
    return f"{before}{mark}{words}{mark}{after}" if re.search(r"\w", words) else f"{before}{words}{after}"
