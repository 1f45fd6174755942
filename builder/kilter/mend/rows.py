"""A file's text as it stands on the disk, and where the places of findings are in it.

Findings count rows and columns of a text with plain line ends and no byte-order mark; the file keeps its own.
"""

from __future__ import annotations

import re
from collections import Counter
from functools import cached_property

from kilter.source import Span

BYTE_ORDER_MARK = "\ufeff"
_END = re.compile("\r\n|\r|\n")


class Rows:
    """A raw text, with the offsets of its rows."""

    def __init__(self, text: str) -> None:
        self.text = text

    @cached_property
    def _rows(self) -> list[tuple[int, int]]:
        """Start and end of each row, its line end left out."""
        start = len(BYTE_ORDER_MARK) if self.text.startswith(BYTE_ORDER_MARK) else 0
        rows = []
        for end in _END.finditer(self.text):
            rows.append((start, end.start()))
            start = end.end()
        return [*rows, (start, len(self.text))]

    def stretch(self, span: Span) -> tuple[int, int] | None:
        """The offsets of a place; None where the text has no such place."""
        start, end = self._offset(span.line, span.column), self._offset(span.end_line, span.end_column)
        return None if start is None or end is None or end < start else (start, end)

    def _offset(self, line: int, column: int) -> int | None:
        if not 1 <= line <= len(self._rows):
            return None
        start, end = self._rows[line - 1]
        return start + column - 1 if 1 <= column <= end - start + 1 else None

    def line_end(self, line: int) -> str:
        """The line end that new rows at a line take: that of the row, of the row above, else the commonest."""
        for at in (line, line - 1):
            if 1 <= at < len(self._rows):
                return self.text[self._rows[at - 1][1] : self._rows[at][0]]
        counts = Counter(_END.findall(self.text))
        return counts.most_common(1)[0][0] if counts else "\n"
