"""What stands in the library's folder, so that a change is seen even where no event tells of it."""

from __future__ import annotations

import os
from pathlib import Path

from kilter.compute.pictureinfo import ENDINGS

State = dict[Path, tuple[int, int, int]]
"""Each file with its time of change, size and inode number."""
_WANTED = (".md", *ENDINGS)


def state_of(root: Path, config: Path) -> State:
    """Documents, pictures, front page and settings as they are now; what can't be looked at is left out."""
    found: State = {}
    _add(found, config)
    for folder, names, files in os.walk(root):
        names[:] = [n for n in names if not n.startswith(".")]
        for name in files:
            if name.lower().endswith(_WANTED) and not name.startswith("."):
                _add(found, Path(folder) / name)
    return found


def _add(found: State, file: Path) -> None:
    try:
        seen = file.stat()
    except OSError:
        return
    found[file] = (seen.st_mtime_ns, seen.st_size, seen.st_ino)


def differences(old: State, new: State) -> set[Path]:
    """What came, went or changed."""
    return {file for file in {*old, *new} if old.get(file) != new.get(file)}


def being_written(files: set[Path], new: State) -> bool:
    """Whether one of them is empty: most editors empty a file just before they fill it."""
    return any(new[f][1] == 0 for f in files if f in new)
