"""The rows of one picture in the text: which there are, and the text with some of them changed."""

from __future__ import annotations

from dataclasses import dataclass

from kilter.model.document import Document
from kilter.model.text import Figure
from kilter.read.fields import field_at
from kilter.source import Source

PLACED = ("crop", "cover", "detail", "motion", "scale")
"""Options beside items that name places in the picture."""


class RowsError(Exception):
    """What was asked does not fit the text; the message is for the writer."""


@dataclass(frozen=True)
class Row:
    """An option of a picture."""

    line: int
    """In the file, from 1."""
    name: str
    value: str
    text: str
    """The whole row."""

    @property
    def placed(self) -> bool:
        return self.name.isdigit() or self.name in PLACED


def picture_of(document: Document, number: int) -> Figure:
    """A picture of a file by its number, from 1; of a pair each counts. Raises RowsError."""
    if not 1 <= number <= len(document.pictures):
        raise RowsError("There is no such picture in this file any more. Load the page again.")
    return document.pictures[number - 1]


def rows_of(source: Source, picture: Figure) -> list[Row]:
    """The options of a picture, without those of the second one of a pair."""
    found: list[Row] = []
    at = picture.path_span.line
    while at < len(source.lines) and (field := field_at(source, at)) is not None:
        if field.name == "after":
            break
        found.append(Row(at + 1, field.name, field.value, source.lines[at]))
        at += 1
    return found


def changed(source: Source, picture: Figure, changes: list[tuple[int, str]]) -> str:
    """The text with rows replaced, taken out (an empty row) or put in (line 0). Raises RowsError."""
    rows = {row.line: row for row in rows_of(source, picture)}
    lines: list[str | None] = [*source.lines]
    new: list[str] = []
    for line, text in changes:
        if "\n" in text or "\r" in text:
            raise RowsError("An option of a figure stands on one line.")
        if line == 0:
            new.append(text)
        elif line not in rows or not rows[line].placed:
            raise RowsError("That line is no place in this picture any more. Load the page again.")
        else:
            lines[line - 1] = text or None
    after = _last(picture, list(rows.values()), new)
    kept = [*lines[:after], *new, *lines[after:]]
    return "\n".join(line for line in kept if line is not None)


def _last(picture: Figure, rows: list[Row], new: list[str]) -> int:
    """The line behind which a new row goes: the last item for an item, else the last option, else the head."""
    item = bool(new) and new[0].strip().lstrip(":")[:1].isdigit()
    items = [row.line for row in rows if row.name.isdigit()] if item else []
    return max(items or [row.line for row in rows] or [picture.path_span.line])
