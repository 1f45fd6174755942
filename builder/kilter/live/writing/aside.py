"""A look at an unsaved text without leaving it in the shared library: several open pages can't disturb each other."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from kilter.assist.memory import remember
from kilter.check.workspace import Workspace
from kilter.diagnostic import Diagnostic
from kilter.live.bench import Bench
from kilter.source import Source


@dataclass(frozen=True)
class Aside:
    """A library of one's own in which one file says something else."""

    workspace: Workspace
    path: str
    """The file as shown in findings."""

    @property
    def source(self) -> Source:
        return self.workspace.library.sources[self.path]

    def findings(self) -> list[Diagnostic]:
        return self.workspace.findings(self.path)


def aside(bench: Bench, file: Path, text: str) -> Aside:
    """The bench's library as it stands, with this text for a file that may not be there yet."""
    with bench.lock:
        own = bench.workspace.aside()
    remember(own)  # names to complete with come from the saved text while this one can't be read
    own.write(file, text)
    return Aside(own, own.shown(file))
