"""One at a time in a folder: two imports that run at once must lose nothing."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from kilter.outcome import CouldNotRunError

NAME = ".lock"
PATIENCE = 60.0
"""Seconds to wait for another one to end."""


@contextmanager
def locked(folder: Path, patience: float = PATIENCE) -> Iterator[None]:
    """Hold the folder's lock; the system gives it back even if the program is killed. Raises CouldNotRunError."""
    handle = os.open(folder / NAME, os.O_RDWR | os.O_CREAT, 0o666)
    try:
        until = time.monotonic() + patience
        while not _taken(handle):
            if time.monotonic() > until:
                raise CouldNotRunError(f"{folder}: another `kilter records` is at work there; try again")
            time.sleep(0.05)
        yield
    finally:
        os.close(handle)


if sys.platform == "win32":
    import msvcrt

    def _taken(handle: int) -> bool:
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

else:
    import fcntl

    def _taken(handle: int) -> bool:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return False
        return True
