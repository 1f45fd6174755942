"""The text of a file and every place in it.

The one module that turns character offsets and 0-based rows into the 1-based lines and columns
that people read. Columns count characters (Unicode code points), not bytes.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from unicodedata import category

MAX_BYTES = 2_000_000
"""Largest text file that is read; a procedure of 1,000 steps is about a quarter of it."""

MAX_LINE = 20_000
"""Longest line that is read, in characters."""

_JOINERS = "\u200c\u200d"
"""Unseen too, but some scripts and signs can't be written without them."""


def unseen(sign: str) -> bool:
    """Whether nobody sees this character, or it turns the order of what is read; tab and line end are fine."""
    return (
        sign not in "\t\n" and sign not in _JOINERS and category(sign) in ("Cc", "Cf", "Cn", "Cs", "Zl", "Zp")
    )


@dataclass(frozen=True, slots=True, order=True)
class Span:
    """A stretch of a file: 1-based line and column of its start and of the place just after its end."""

    path: str
    line: int
    column: int
    end_line: int
    end_column: int

    def __str__(self) -> str:
        return f"{self.path}:{self.line}:{self.column}"


class UnreadableError(Exception):
    """The bytes of a file are not text that can be read; `span` is the place, `help` the cure."""

    def __init__(self, rule: str, message: str, span: Span, help: str, text: str = "") -> None:
        super().__init__(message)
        self.rule, self.message, self.span, self.help = rule, message, span, help
        self.text = text
        """What can be shown of the file, signs that nobody sees replaced by U+FFFD."""


@dataclass(frozen=True)
class Source:
    """The text of one file, with line ends as LF, and the ways to name places in it."""

    path: str
    """As shown to people: relative to where they stand, with forward slashes."""
    text: str
    """No byte-order mark, LF only."""

    @cached_property
    def lines(self) -> list[str]:
        """Rows without their line ends."""
        return self.text.split("\n")

    @cached_property
    def _starts(self) -> list[int]:
        starts = [0]
        for row in self.lines[:-1]:
            starts.append(starts[-1] + len(row) + 1)
        return starts

    def span(self, start: int, end: int) -> Span:
        """The stretch between two offsets into `text`."""
        start = max(0, min(start, len(self.text)))
        end = max(start, min(end, len(self.text)))
        row, last = bisect_right(self._starts, start) - 1, bisect_right(self._starts, end) - 1
        return Span(self.path, row + 1, start - self._starts[row] + 1, last + 1, end - self._starts[last] + 1)

    def in_row(self, row: int, start: int = 0, end: int | None = None) -> Span:
        """Columns `start` to `end` (0-based, end left out) of a 0-based row; without an end, to the row's end."""
        row = max(0, min(row, len(self.lines) - 1))
        length = len(self.lines[row])
        start = min(start, length)
        stop = length if end is None else min(max(end, start), length)
        return Span(self.path, row + 1, start + 1, row + 1, stop + 1)

    def rows(self, first: int, last: int, blanks: bool = True) -> Span:
        """From the start of 0-based row `first`, or its first sign that is no blank, to the end of row `last - 1`."""
        last = max(first + 1, min(last, len(self.lines)))
        text = self.lines[first]
        column = 1 if blanks else len(text) - len(text.lstrip()) + 1
        return Span(self.path, first + 1, column, last, len(self.lines[last - 1]) + 1)

    def whole_row(self, row: int) -> Span:
        """A 0-based row without the blanks around it."""
        row = max(0, min(row, len(self.lines) - 1))
        text = self.lines[row]
        start, end = len(text) - len(text.lstrip()), len(text.rstrip())
        return Span(self.path, row + 1, start + 1, row + 1, max(start, end) + 1)

    def row(self, row: int) -> str:
        """The text of a 0-based row, empty past the end."""
        return self.lines[row] if 0 <= row < len(self.lines) else ""


def decode(path: str, data: bytes) -> Source:
    """Text of a file's bytes: UTF-8, with or without a byte-order mark, any line ends.

    Raises UnreadableError when the bytes are too many, are not UTF-8, or hold what no text should.
    """
    if len(data) > MAX_BYTES:
        raise _too_large(path, len(data))
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise _not_utf8(path, data, error.start) from None
    source = Source(path, _plain_ends(text))
    _refuse_control_characters(source)
    return source


def _too_large(path: str, size: int) -> UnreadableError:
    return UnreadableError(
        "file-too-large",
        f"file is {size:,} bytes, the most is {MAX_BYTES:,}",
        Span(path, 1, 1, 1, 1),
        "split it into several procedures, or look whether something was pasted by mistake",
    )


def _not_utf8(path: str, data: bytes, at: int) -> UnreadableError:
    text = _plain_ends(data.decode("utf-8-sig", "replace"))
    before = _plain_ends(data[:at].decode("utf-8-sig", "replace"))
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    message = f"not UTF-8: byte 0x{data[at]:02x}"
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        help = "it looks like UTF-16: save it as UTF-8 in the editor"
        return UnreadableError("wrong-encoding", message, Span(path, 1, 1, 1, 1), help)
    help = "save the file as UTF-8; the byte here may be a letter or sign of an older encoding"
    span = Span(path, line, column, line, column + 1)
    return UnreadableError("wrong-encoding", message, span, help, _showable(text))


def _plain_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _showable(text: str) -> str:
    if text.replace("\n", "").isprintable():
        return text
    return "".join("\ufffd" if unseen(sign) else sign for sign in text)


def _refuse_control_characters(source: Source) -> None:
    for row, text in enumerate(source.lines):
        if len(text) > MAX_LINE:
            raise UnreadableError(
                "line-too-long",
                f"line of {len(text):,} characters, the most is {MAX_LINE:,}",
                source.in_row(row, MAX_LINE, MAX_LINE + 1),
                "break the line; a picture or a program pasted into the text belongs in a file of its own",
                _showable(source.text),
            )
        if text.isprintable():
            continue
        for column, sign in enumerate(text):
            if unseen(sign):
                raise UnreadableError(
                    "control-character",
                    f"control character U+{ord(sign):04X} in the text",
                    source.in_row(row, column, column + 1),
                    "delete it; it can't be seen, and hides or swallows what follows",
                    _showable(source.text),
                )


def read_source(file: Path, shown: str) -> Source:
    """Read and decode a file; raises UnreadableError, also when it can't be opened."""
    try:
        if not file.is_file() and file.exists():
            raise OSError("it is no plain file")  # a pipe would be waited for without end
        size = file.stat().st_size
        if size > MAX_BYTES:
            raise _too_large(shown, size)
        return decode(shown, file.read_bytes())
    except OSError as error:
        raise UnreadableError(
            "cannot-read",
            f"can't be read: {error.strerror or error}",
            Span(shown, 1, 1, 1, 1),
            "look at the file's name and permissions",
        ) from None
