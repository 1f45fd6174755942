"""A look at an unsaved text without leaving it in the shared library: several open pages can't disturb each other."""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
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
        own = _copied(bench.workspace)
    remember(own)  # names to complete with come from the saved text while this one can't be read
    own.write(file, text)
    return Aside(own, own.shown(file))


def _copied(workspace: Workspace) -> Workspace:
    """A workspace that can be changed with no trace in the first; what is worked out already is shared."""
    own = copy.copy(workspace)
    library = workspace.library
    own.library = replace(
        library,
        documents=dict(library.documents),
        sources=dict(library.sources),
        readings=dict(library.readings),
        files=dict(library.files),
        waiting=dict(library.waiting),
    )
    own._unsaved = dict(workspace._unsaved)
    own._always = set(workspace._always)
    own._kept = {path: replace(kept) for path, kept in workspace._kept.items()}
    return own
