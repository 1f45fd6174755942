"""Results that cost time, kept on the disk between runs: a folder beside mkdocs.yml, safe to delete.

An entry is written whole or not at all, and carries the hash of its content, so a spoilt one is made again.
Where there is no mkdocs.yml, or the folder can't be written, nothing is kept and nothing is missed.
"""

from __future__ import annotations

import hashlib
import os
import re
import threading
from contextlib import suppress
from functools import lru_cache
from pathlib import Path

FOLDER = ".kilter-cache"
MOST_BYTES = 1_000_000_000
"""Of all entries; past that the oldest go, until a fifth is free."""
LOOK_AFTER = 64
"""Entries written between two looks at the folder's size."""
_NAME = re.compile(r"[a-z0-9-]{1,80}")
_SUM = 64


class Keep:
    """Entries by name, in one folder."""

    def __init__(self, folder: Path, most: int = MOST_BYTES) -> None:
        self.folder, self.most = folder, most
        self._written = 0
        self._lock = threading.Lock()

    def get(self, name: str) -> bytes | None:
        """The content of an entry; None if there is none, or it is not what was written."""
        try:
            raw = self._file(name).read_bytes()
        except OSError:
            return None
        data = raw[_SUM:]
        return data if raw[:_SUM] == hashlib.sha256(data).hexdigest().encode() else None

    def put(self, name: str, data: bytes) -> None:
        """Keep an entry; a disk that is full or not ours to write on is no error."""
        file = self._file(name)
        aside = file.with_name(f".{name}-{os.getpid()}-{threading.get_ident()}")
        try:
            self._make_folder()
            aside.write_bytes(hashlib.sha256(data).hexdigest().encode() + data)
            aside.replace(file)
        except OSError:
            with suppress(OSError):
                aside.unlink()
            return
        with self._lock:
            self._written += 1
            look = self._written % LOOK_AFTER == 1
        if look:
            self.prune()

    def prune(self) -> None:
        """Bring the folder below its bound: the entries that were written first go first."""
        found = sorted(_entries(self.folder))
        total = sum(size for _, size, _ in found)
        if total <= self.most:
            return
        for _, size, file in found:
            if total <= self.most * 0.8:
                break
            with suppress(OSError):
                file.unlink()
            total -= size

    def _make_folder(self) -> None:
        if not self.folder.is_dir():
            self.folder.mkdir(parents=True, exist_ok=True)
        if not (self.folder / ".gitignore").exists():
            (self.folder / ".gitignore").write_text("*\n", encoding="utf-8")

    def _file(self, name: str) -> Path:
        if not _NAME.fullmatch(name):
            raise ValueError(f"no name for an entry: {name!r}")
        return self.folder / name


def _entries(folder: Path) -> list[tuple[int, int, Path]]:
    """Time of writing, bytes and path of each entry, also of those left half written by a killed run."""
    found: list[tuple[int, int, Path]] = []
    with suppress(OSError):
        for entry in os.scandir(folder):
            if entry.name != ".gitignore" and entry.is_file(follow_symlinks=False):
                stat = entry.stat(follow_symlinks=False)
                found.append((stat.st_mtime_ns, stat.st_size, Path(entry.path)))
    return found


@lru_cache(maxsize=256)
def keep_for(folder: Path) -> Keep | None:
    """The keep of the library that a folder lies in; None outside of any."""
    for place in (folder.absolute(), *folder.absolute().parents):
        if (place / "mkdocs.yml").is_file():
            return Keep(place / FOLDER)
    return None
