"""Where in the front matter a place is: the keys that lead there, and whether a key or a value is written."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from kilter.assist.sketch import Sketch
from kilter.source import Source, Span

_KEY = re.compile(r"""^(?:"([^"]*)"|'([^']*)'|([^\s:#,\[\]{}"'][^:#,\[\]{}]*?))\s*:(?=\s|$)""")


@dataclass(frozen=True, slots=True)
class FrontSpot:
    """A place in the front matter."""

    keys: tuple[str, ...]
    """The keys that lead to it, outermost first; a list counts for nothing."""
    writes: str
    """`key`, `value` or `entry` (of a list)."""
    typed: str
    replace: Span
    present: frozenset[str] = frozenset()
    """Keys that already stand beside it."""
    closed: bool = False
    """Whether a colon follows already."""


@dataclass
class _Frame:
    """One mapping or list that is open."""

    opener: str
    """`{`, `[`, or nothing for one of rows."""
    key: str = ""
    keys: set[str] = field(default_factory=set)
    dash: bool = False
    indent: int = -1


def front_spot(source: Source, drawn: Sketch, line: int, column: int) -> FrontSpot | None:
    """What is written at a 1-based place; None outside the front matter, in a comment or in quotes."""
    row = line - 1
    if not 0 < row < drawn.front_end:
        return None
    reader = _Reader()
    for each in range(1, row):
        reader.row(source.row(each))
    found = reader.last(source.row(row)[: column - 1])
    if found is None:
        return None
    keys, writes, typed = found
    start = column - 1 - len(typed)
    present = frozenset(reader.beside() | (_below(source, drawn, row) if len(keys) == 0 else set()))
    rest = source.row(row)[column - 1 :]
    tail = _tail(rest, writes, bool(reader.frames[-1].opener))
    span = source.in_row(row, start, column - 1 + len(tail))
    return FrontSpot(keys, writes, typed, span, present, rest[len(tail) :].lstrip().startswith(":"))


def _tail(rest: str, writes: str, flow: bool) -> str:
    """What is left of the key or value behind the cursor."""
    if writes == "key":
        match = re.match(r"[\w-]*", rest)
    else:
        match = re.match(r"[^,\]}]*(?=[,\]}])|" if flow else r"[^#]*", rest)
    return match.group().rstrip() if match else ""


def _below(source: Source, drawn: Sketch, row: int) -> set[str]:
    """Top-level keys of the rows that follow."""
    rows = source.lines[row + 1 : drawn.front_end]
    return {m.group(3) for text in rows if (m := _KEY.match(text)) and m.group(3)}


class _Reader:
    """Follows the rows from the top; what is no YAML yet is passed over."""

    def __init__(self) -> None:
        self.frames: list[_Frame] = [_Frame("", indent=0)]

    def row(self, text: str) -> None:
        self._take(text)

    def beside(self) -> set[str]:
        return self.frames[-1].keys

    def last(self, text: str) -> tuple[tuple[str, ...], str, str] | None:
        """Keys, what is written, and what of it has been typed."""
        left = self._take(text)
        if left is None or left.startswith(('"', "'", "#")):
            return None
        frame = self.frames[-1]
        keys = tuple(f.key for f in self.frames[:-1] if f.key)
        if frame.opener == "[":
            return keys, "entry", left
        if frame.key:
            return (*keys, frame.key), "value", left
        writes = "entry" if frame.dash and not frame.keys else "key"
        return keys, writes, left

    def _take(self, text: str) -> str | None:
        """Read one row; returns what is left of it behind the last sign that means something."""
        if not self.frames[-1].opener:
            text = self._indented(text)
        while True:
            text = text.lstrip()
            frame = self.frames[-1]
            if text.startswith("#"):
                return None
            if not frame.key and frame.opener != "[" and (match := _KEY.match(text)):
                frame.key = next(g for g in match.groups() if g is not None)
                frame.keys.add(frame.key)
                text = text[match.end() :]
            elif text[:1] in ("{", "[") and text:
                self.frames.append(_Frame(text[0]))
                text = text[1:]
            elif frame.opener and text[:1] in (",", "}", "]") and text:
                self._closed(text[0])
                text = text[1:]
            else:
                scalar = self._scalar(text, bool(frame.opener))
                if len(scalar) == len(text):
                    return text
                text = text[len(scalar) :]

    def _closed(self, sign: str) -> None:
        if sign == ",":
            self.frames[-1].key = ""
        elif len(self.frames) > 1:
            self.frames.pop()

    def _scalar(self, text: str, flow: bool) -> str:
        """The text of one value as far as it goes."""
        if text[:1] in ("'", '"') and text:
            end = text.find(text[0], 1)
            return text if end < 0 else text[: end + 1]
        stop = re.search(r"[,\]}]", text) if flow else None
        return text[: stop.start()] if stop else text

    def _indented(self, text: str) -> str:
        """Close what ended above this row, open what begins in it."""
        bare = text.lstrip(" ")
        indent = len(text) - len(bare)
        if not bare or bare.startswith("#"):
            self._close_to(indent, False)
            return bare
        while (dash := re.match(r"-(?:\s+|$)", bare)) is not None:
            self._close_to(indent, True)
            self.frames.append(_Frame("", dash=True, indent=indent + len(dash.group())))
            bare, indent = bare[dash.end() :], indent + len(dash.group())
        self._close_to(indent, False)
        return bare

    def _close_to(self, indent: int, dash: bool) -> None:
        """A row at this indent: deeper mappings have ended; a key with nothing behind it opens one."""
        while len(self.frames) > 1 and (self.frames[-1].indent > indent or self.frames[-1].opener):
            self.frames.pop()
        top = self.frames[-1]
        if dash:
            while len(self.frames) > 1 and self.frames[-1].dash and self.frames[-1].indent > indent:
                self.frames.pop()
            return
        if indent > top.indent and top.key:
            self.frames.append(_Frame("", indent=indent))
        elif indent <= top.indent:
            top.key = ""
