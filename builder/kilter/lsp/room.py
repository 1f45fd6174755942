"""What is kept of one library, of one open file, and what is to be told."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from kilter.check.workspace import Workspace
from kilter.diagnostic import Diagnostic


@dataclass
class Opened:
    """A file that is open in the editor."""

    uri: str
    version: int | None
    text: str


@dataclass
class Room:
    """One library in memory, and the findings that were last worked out."""

    workspace: Workspace
    due: dict[str, None] = field(default_factory=dict)
    """Files to be looked at again, the first first."""
    placed: dict[str, dict[str, list[Diagnostic]]] = field(default_factory=dict)
    """By the file of their place, then by the document that has them: a procedure's may be in its profile."""
    told: set[str] = field(default_factory=set)
    """Files whose last message was not empty."""

    def put(self, path: str, findings: list[Diagnostic]) -> set[str]:
        """Take what a document has now; returns the files for which something may differ."""
        before = {target for target, by in self.placed.items() if by.pop(path, None) is not None}
        for each in findings:
            self.placed.setdefault(each.span.path, {}).setdefault(path, []).append(each)
        return before | {d.span.path for d in findings} | {path}

    def at(self, path: str) -> list[Diagnostic]:
        """All findings with their place in a file, whichever document has them."""
        all = (d for findings in self.placed.get(path, {}).values() for d in findings)
        return sorted(dict.fromkeys(all), key=lambda d: d.sort_key)


@dataclass(frozen=True)
class News:
    """Findings to be shown with one file."""

    room: Room
    path: str
    file: Path
    findings: list[Diagnostic]
    opened: Opened | None
