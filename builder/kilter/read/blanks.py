"""The blanks that `kilter new` leaves for the writer to fill in."""

from __future__ import annotations

from typing import Any

from kilter.read.notes import Notes

BLANK_MARK = "[fill in"
"""How every blank begins, in the front matter and in the text."""


def note_blanks(notes: Notes) -> None:
    """One finding for each blank that is still there."""
    for row, text in enumerate(notes.source.lines):
        at = text.find(BLANK_MARK)
        while at >= 0:
            end = text.find("]", at) + 1 or len(text)
            asked = text[at + len(BLANK_MARK) : end].strip(" :]")
            help = (
                f"write it in place of the brackets: {asked}"
                if asked
                else "write it in place of the brackets"
            )
            notes.error("blank-left", "a blank is not filled in", notes.source.in_row(row, at, end), help)
            at = text.find(BLANK_MARK, end)


def is_blank(value: Any) -> bool:
    """Whether a front-matter value is such a blank, also one without quotes, which YAML takes for a list."""
    if isinstance(value, (list, tuple)) and len(value) == 1:
        return isinstance(value[0], str) and value[0].startswith(BLANK_MARK[1:])
    return isinstance(value, str) and BLANK_MARK in value
