"""Applies the fixes that need nobody to choose, round by round, to a library in memory."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from kilter.check.workspace import Workspace
from kilter.diagnostic import Diagnostic, Fix
from kilter.mend.apply import apply

MOST_ROUNDS = 10
"""Each round can free fixes that waited; more than a few means that two of them undo each other."""


@dataclass(frozen=True)
class Mended:
    """What came of the texts."""

    texts: Mapping[str, str]
    """Raw texts by shown path, mended or as they were."""
    originals: Mapping[str, str]
    """The same as they stand on the disk."""
    made: tuple[Fix, ...]
    left: tuple[Diagnostic, ...]
    """All findings that are still there."""


def mend(workspace: Workspace, paths: Iterable[str]) -> Mended:
    """Apply all fixes that may be made alone, in files of these shown paths only. Writes nothing to the disk."""
    paths = sorted(set(paths) & set(workspace.paths()))
    originals = {path: text for path in paths if (text := _raw(workspace, path)) is not None}
    for path, text in originals.items():  # what is mended is what was found fault with
        workspace.write(workspace.library.files[path], text)
    texts, made = dict(originals), list[Fix]()
    for _ in range(MOST_ROUNDS):
        done = apply(texts, _alone(workspace, paths))
        if not done.made:
            break
        made += done.made
        for path, text in done.texts.items():
            if text != texts[path]:
                workspace.write(workspace.library.files[path], text)
        texts = dict(done.texts)
    return Mended(texts, originals, tuple(made), tuple(found_in(workspace, paths)))


def found_in(workspace: Workspace, paths: Iterable[str]) -> list[Diagnostic]:
    """Every finding of these files once, in order of place."""
    found = dict.fromkeys(d for path in paths for d in workspace.findings(path))
    return sorted(found, key=lambda d: d.sort_key)


def _alone(workspace: Workspace, paths: Iterable[str]) -> list[Fix]:
    """The fixes in order of place, each once."""
    found = (d for path in paths for d in workspace.findings(path))
    return list(dict.fromkeys(fix for d in found for fix in d.fixes[:1] if fix.alone))


def _raw(workspace: Workspace, path: str) -> str | None:
    """A file's text with its own line ends; None for one that is no text, which nothing here can mend."""
    try:
        return workspace.library.files[path].read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError):
        return None
