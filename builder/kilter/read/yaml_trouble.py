"""What YAML's parser complains of, in the author's words and at the author's place."""

from __future__ import annotations

import re

import yaml

from kilter.diagnostic import Fix
from kilter.read.cures import replaced
from kilter.read.notes import Notes

QUOTES = "put quotes around a value that holds `: ` or `#`, or begins with one of `[{&*!|>%@,`"
_HIDING = re.compile(r"[&*!]")
_SPOKEN = (
    ("mapping values", "a second colon, or a line that is indented by mistake",
     "put quotes around a value that holds a colon, or line the key up with those above it"),
    ("document start", "a line that does not line up with those above it", "line it up with the keys above it"),
    ("expected key", "a line that does not line up with those above it", "line it up with the keys above it"),
    ("block end", "a line that does not line up with those above it", "line it up with the keys above it"),
    ("',' or ']'", "a list in `[ ]` that does not end", "write `]` after its last entry"),
    ("',' or '}'", "keys in `{ }` that do not end", "write `}` after the last value"),
    ("end of stream", "a quote that does not end", "write the same quote again at the end of the value"),
    ("document indicator", "a quote that does not end", "write the same quote again at the end of the value"),
    ("escape", "a backslash that YAML reads as a sign of its own", "use single quotes, or write two backslashes"),
    ("nesting", "front matter is nested too deeply", "make it flatter"),
    ("undefined alias", "an alias (`*name`) is not allowed", "write the value out, in quotes if it begins with `*`"),
    ("cannot start any token", "a character that can't begin a value", QUOTES),
)  # fmt: skip
_AT_THE_BEGINNING = ("',' or ']'", "',' or '}'", "end of stream", "document indicator")
"""What does not end is shown where it begins: the parser only notices at the end of the file."""


def note_broken(notes: Notes, trouble: yaml.MarkedYAMLError) -> None:
    """One finding for YAML that can't be parsed."""
    problem = (trouble.problem or "it can't be read").replace("\n", " ")
    words, advice = next(((w, a) for sign, w, a in _SPOKEN if sign in problem), (problem, QUOTES))
    mark = trouble.problem_mark or trouble.context_mark
    if any(sign in problem for sign in _AT_THE_BEGINNING):
        mark = trouble.context_mark or mark
    row, column = (mark.line + 1, mark.column) if mark else (0, 0)
    if notes.source.row(row)[column : column + 1] == "\t":
        words, advice = "a tab before a key", "indent with blanks, not with tabs"
    span = notes.source.in_row(row, column, column + 1)
    cure = _quoted(notes, row) if "mapping values" in problem else ()
    notes.error("front-matter", f"front matter is not YAML: {words}", span, advice, cure)


_TAG = re.compile(r"!\S*[ ]+")


def _untagged(notes: Notes, row: int, column: int) -> tuple[Fix, ...]:
    found = _TAG.match(notes.source.row(row), column)
    return replaced("delete the tag", notes.source.in_row(row, column, found.end()), "") if found else ()


_PLAIN_VALUE = re.compile(
    r"""^[a-z][a-z-]*:[ ]+(?P<value>[^\s"'\[\]{}#&*!|>%@`,-][^"\\#]*:[ ][^"\\#]*?)[ ]*$"""
)


def _quoted(notes: Notes, row: int) -> tuple[Fix, ...]:
    """A plain value of a top-level key that holds a colon, in quotes: its words stay the same."""
    found = _PLAIN_VALUE.match(notes.source.row(row))
    if found is None:
        return ()
    place = notes.source.in_row(row, found.start("value"), found.end("value"))
    return replaced("put quotes around the value", place, f'"{found["value"]}"', alone=True)


def note_hiding(notes: Notes, text: str, loader: type) -> bool:
    """A finding for each alias, anchor and tag, where it first stands; whether there was one."""
    if not _HIDING.search(text):
        return False
    before, said = len(notes.found), set()
    for event in yaml.parse(text, Loader=loader):
        mark = event.start_mark
        row, column = (mark.line + 1, mark.column) if mark else (0, 0)
        span = notes.source.in_row(row, column, column + 1)
        anchor, tag = getattr(event, "anchor", None), getattr(event, "tag", None)
        if (type(event), anchor, tag) in said:
            continue
        said.add((type(event), anchor, tag))
        if isinstance(event, yaml.AliasEvent):
            notes.error("yaml-alias", f"an alias (`*{anchor}`) is not allowed", span, "write the value out")
        elif anchor is not None:
            notes.error("yaml-alias", f"an anchor (`&{anchor}`) is not allowed", span, "delete it")
        if tag is not None:
            notes.error(
                "yaml-alias",
                f"a tag (`{tag}`) is not allowed",
                span,
                "delete the tag",
                _untagged(notes, row, column),
            )
    return len(notes.found) > before
