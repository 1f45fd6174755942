"""The library's own table of electrical limits can't be used."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.library import Library
from kilter.read.library import LIMITS, shown_path
from kilter.source import Source, Span

CODE = "K336"
SEVERITY = Severity.ERROR

_ROW = re.compile(r"row (\d+): (?:`([^`]*)`)?")
_AT = re.compile(r"\(at line (\d+), column (\d+)\)")


def check_library(library: Library) -> Iterator[Diagnostic]:
    if not library.settings.limits:
        return
    from kilter.compute.electrical import TableError, read_table

    try:
        read_table(library.settings.limits)
    except TableError as trouble:
        source = Source(_shown(library), library.settings.limits)
        help = "mend the row: each has standard, edition, measure, limit and mark, all in quotes"
        yield error(
            "limits-table", f"table of limits: {str(trouble)[:160]}", _place(source, str(trouble)), help
        )


def _shown(library: Library) -> str:
    """The table's path in the form in which the documents' are shown."""
    for shown, file in library.files.items():
        if file.is_relative_to(library.root):
            inner = file.relative_to(library.root).as_posix()
            if shown.endswith(inner):
                return shown[: -len(inner)] + LIMITS
    return shown_path(library.root / LIMITS)


def _place(source: Source, message: str) -> Span:
    """The line that the trouble names, or that of the row's entry, else the first."""
    if (at := _AT.search(message)) is not None:
        line = min(int(at[1]), len(source.lines))
        return source.in_row(line - 1, int(at[2]) - 1, len(source.row(line - 1)))
    row = _ROW.match(message)
    heads = [n for n, text in enumerate(source.lines) if text.strip().startswith("[[limit]]")]
    if row is None or not 0 < int(row[1]) <= len(heads):
        return source.whole_row(0)
    first = heads[int(row[1]) - 1]
    last = heads[int(row[1])] if int(row[1]) < len(heads) else len(source.lines)
    wanted = row[2] or ""
    inside = range(first, last)
    found = (n for n in inside if wanted and re.match(rf"\s*{re.escape(wanted)}\s*=", source.row(n)))
    quoted = (n for n in inside if wanted and wanted in source.row(n))
    return source.whole_row(next(found, next(quoted, first)))
