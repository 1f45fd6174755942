"""Writes mended texts to the disk: all of them, or none."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path


class ChangedMeanwhileError(Exception):
    """A file on the disk is no longer what was read."""

    def __init__(self, file: Path) -> None:
        super().__init__(f"{file}: changed since it was read; nothing was written, so run it again")
        self.file = file


@dataclass(frozen=True)
class Change:
    """One file, the bytes that were read and those to write."""

    file: Path
    before: bytes
    after: bytes


def write(changes: Iterable[Change]) -> None:
    """Write every file beside itself first and then put them in place; a link's target is written, not the link.

    Raises ChangedMeanwhileError before anything is put in place, and OSError from the disk.
    """
    changes = [Change(c.file.resolve(), c.before, c.after) for c in changes if c.before != c.after]
    beside: list[Path] = []
    try:
        for change in changes:
            _refuse_changed(change)
            beside.append(_beside(change))
        for change in changes:
            _refuse_changed(change)
        for change, new in zip(changes, list(beside), strict=True):
            new.replace(change.file)
            beside.remove(new)
    finally:
        for new in beside:
            with contextlib.suppress(OSError):
                new.unlink()


def _refuse_changed(change: Change) -> None:
    try:
        now = change.file.read_bytes()
    except FileNotFoundError:
        raise ChangedMeanwhileError(change.file) from None
    if now != change.before:
        raise ChangedMeanwhileError(change.file)


def _beside(change: Change) -> Path:
    handle, name = tempfile.mkstemp(prefix=f".{change.file.name}.", suffix=".new", dir=change.file.parent)
    new = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(change.after)
            stream.flush()
            os.fsync(stream.fileno())
        shutil.copymode(change.file, new)
    except BaseException:
        new.unlink(missing_ok=True)
        raise
    return new
