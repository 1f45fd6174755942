"""What several commands need: colour, and which library a path belongs to."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from kilter.outcome import CouldNotRunError


def colour_terminal() -> bool:
    return sys.stdout.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"


def libraries(paths: list[Path]) -> dict[Path, list[Path]]:
    """Library folders and the chosen files or folders in each; an empty list means all of it."""
    from kilter.read.library import library_root

    found: dict[Path, list[Path]] = {}
    for path in paths or [Path.cwd()]:
        if not path.exists():
            raise CouldNotRunError(f"{path}: no such file or folder")
        root = library_root(path)
        chosen = found.setdefault(root, [])
        if path.resolve() != root and not (not paths or root.parent == path.resolve()):
            chosen.append(path.resolve())
    return found


def chosen_files(only: list[Path], files: list[Path]) -> list[Path]:
    """The documents among the chosen files and folders; a file named outright counts whatever it is."""
    inside = [f for f in files if any(f == path or path in f.parents for path in only)]
    named = [p for p in only if p.is_file() and p not in inside]
    if not inside and not named:
        raise CouldNotRunError(f"{only[0]}: no Markdown files in it")
    return inside + named


def no_documents(root: Path) -> CouldNotRunError:
    """Nothing was found to check: most likely the wrong folder, or a library that is not begun yet."""
    from kilter.read.library import FOLDER

    there = root.name == FOLDER
    lacks = "nothing in it yet" if there else f"no folder {FOLDER}/ in it or above it"
    file = "machine/profile.md" if there and root == Path.cwd() else f"{FOLDER}/machine/profile.md"
    return CouldNotRunError(f"{root}: no documents here: {lacks}; begin with `kilter new equipment {file}`")
