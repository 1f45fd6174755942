"""Puts fixes into texts; of those that touch the same place the first is made and the others wait."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from kilter.diagnostic import Fix
from kilter.mend.rows import Rows


@dataclass(frozen=True)
class Applied:
    """Texts after a round of fixes."""

    texts: Mapping[str, str]
    """Every given text by its path, mended or as it was."""
    made: tuple[Fix, ...]
    waiting: tuple[Fix, ...]
    """Those that touch a place of one that was made, or a place that is not in the texts."""


@dataclass
class _Page:
    """The stretches of one text that are taken, and what goes there."""

    rows: Rows
    changes: list[tuple[int, int, str]] = field(default_factory=list)

    def free(self, start: int, end: int) -> bool:
        return all(not _touch(start, end, a, b) for a, b, _ in self.changes)

    def text(self) -> str:
        parts, at = [], 0
        for start, end, new in sorted(self.changes):
            parts += [self.rows.text[at:start], new]
            at = end
        return _joined([*parts, self.rows.text[at:]])


def _joined(parts: Iterable[str]) -> str:
    """The parts in a row; a CR and an LF that come to meet stay the ends of two rows."""
    text: list[str] = []
    for part in filter(None, parts):
        if part[0] == "\n" and text and text[-1][-1] == "\r":
            text.append("\r")
        text.append(part)
    return "".join(text)


def _touch(start: int, end: int, other_start: int, other_end: int) -> bool:
    """Whether two stretches overlap, or begin at one place, so that their order would be by chance."""
    return start == other_start or (start < other_end and other_start < end)


def apply(texts: Mapping[str, str], fixes: Iterable[Fix]) -> Applied:
    """Make the fixes in order; each is made whole or not at all.

    Texts are raw: with their byte-order mark and line ends, which are kept wherever nothing is edited.
    New rows take the line ends that stand around them.
    """
    pages = {path: _Page(Rows(text)) for path, text in texts.items()}
    made, waiting = [], []
    for fix in fixes:
        changes = _changes(pages, fix)
        if changes is None:
            waiting.append(fix)
            continue
        for path, change in changes:
            pages[path].changes.append(change)
        made.append(fix)
    return Applied({path: page.text() for path, page in pages.items()}, tuple(made), tuple(waiting))


def _changes(pages: Mapping[str, _Page], fix: Fix) -> list[tuple[str, tuple[int, int, str]]] | None:
    """Path and change of each edit; None if one of them can't be made now."""
    found: list[tuple[str, tuple[int, int, str]]] = []
    for edit in fix.edits:
        page = pages.get(edit.span.path)
        stretch = page.rows.stretch(edit.span) if page else None
        if page is None or stretch is None or not page.free(*stretch):
            return None
        if any(path == edit.span.path and _touch(*stretch, start, end) for path, (start, end, _) in found):
            return None
        ends = page.rows.line_end(edit.span.line)
        found.append((edit.span.path, (*stretch, edit.text.replace("\n", ends))))
    return found
