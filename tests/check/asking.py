"""Asks one rule about a short example set into the frame of `pages.py`."""

from __future__ import annotations

from pathlib import Path

from tests.check.pages import library_of

from kilter.check.rule import Context, find_rule
from kilter.diagnostic import Diagnostic


def ask(rule: str, example: str, folder: Path) -> list[Diagnostic]:
    """What the rule says about the example's own document, or about its profile if the example is one."""
    found = find_rule(rule)
    assert found is not None
    assert found.check is not None
    library = library_of(example, folder)
    kept: list[Diagnostic] = []
    for document in library.documents.values():
        kept += found.check(Context(library, document, library.profile_of(document)))
    return kept


def shown(found: Diagnostic, folder: Path) -> str:
    """The text that a finding points at, in the files as written."""
    rows = (folder / "procedures" / found.span.path).read_text(encoding="utf-8").split("\n")
    row = rows[found.span.line - 1]
    return row[
        found.span.column - 1 : found.span.end_column - 1 if found.span.end_line == found.span.line else None
    ]
