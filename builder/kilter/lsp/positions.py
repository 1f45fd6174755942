"""Places as editors count them: rows from 0, columns in the code units that were agreed on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from lsprotocol import types

from kilter.source import Span

Encoding = Literal["utf-8", "utf-16", "utf-32"]
"""What a column counts: bytes, 16-bit units (an emoji is two), or characters."""


def encoding_of(name: str | None) -> Encoding:
    """The agreed encoding; UTF-16 where nothing was agreed."""
    return "utf-8" if name == "utf-8" else "utf-32" if name == "utf-32" else "utf-16"


def width(text: str, encoding: Encoding) -> int:
    """Code units of a text."""
    if encoding == "utf-32" or text.isascii():
        return len(text)
    if encoding == "utf-16":
        return len(text) + sum(sign > "\uffff" for sign in text)
    return len(text.encode("utf-8", "surrogatepass"))


def rows_of(text: str) -> list[str]:
    """Rows as both sides count them: CR LF, LF and a lone CR end a row, nothing else does."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def to_position(rows: Sequence[str], line: int, column: int, encoding: Encoding) -> types.Position:
    """A 1-based place as the editor counts it."""
    row = rows[line - 1] if 1 <= line <= len(rows) else ""
    return types.Position(max(line - 1, 0), width(row[: max(column - 1, 0)], encoding))


def to_range(rows: Sequence[str], span: Span, encoding: Encoding) -> types.Range:
    """A span as the editor counts it."""
    start = to_position(rows, span.line, span.column, encoding)
    return types.Range(start, to_position(rows, span.end_line, span.end_column, encoding))


def from_position(rows: Sequence[str], position: types.Position, encoding: Encoding) -> tuple[int, int]:
    """The 1-based line and column; a place inside a character counts as before it, past the end as the end."""
    if position.line >= len(rows):
        return len(rows), len(rows[-1]) + 1 if rows else 1
    row, units = rows[position.line], 0
    if encoding == "utf-32" or row.isascii():
        return position.line + 1, min(position.character, len(row)) + 1
    for column, sign in enumerate(row):
        units += width(sign, encoding)
        if units > position.character:
            return position.line + 1, column + 1
    return position.line + 1, len(row) + 1
