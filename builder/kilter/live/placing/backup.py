"""The copy beside a file from before the last writing: `NAME.md.bak`, for one step back."""

from __future__ import annotations

import os
import tempfile
from hashlib import sha256
from pathlib import Path

from kilter.live.writing.store import ChangedError, StoreError, load


def copy_of(file: Path) -> Path:
    """Where the copy stands; no document, since its name does not end in `.md`."""
    return file.with_name(f"{file.name}.bak")


def kept(file: Path) -> bool:
    """Whether there is a copy that differs from the file."""
    copy = copy_of(file)
    try:
        return not copy.is_symlink() and copy.read_bytes() != file.read_bytes()
    except OSError:
        return False


def lay_aside(file: Path, hash: str) -> None:
    """Copy the file, byte for byte, if it still is what its hash says. Raises ChangedError, StoreError."""
    _put(copy_of(file), _bytes(file, hash))


def back(file: Path, hash: str) -> bool:
    """File and copy change places; False where there is no copy. Raises ChangedError, StoreError."""
    copy = copy_of(file)
    if not kept(file):
        return False
    now, before = _bytes(file, hash), copy.read_bytes()
    _put(file, before)
    _put(copy, now)
    return True


def _bytes(file: Path, hash: str) -> bytes:
    data = file.read_bytes()
    if sha256(data).hexdigest() != hash:
        raise ChangedError(load(file))
    return data


def _put(file: Path, data: bytes) -> None:
    """Whole from its first moment on."""
    try:
        handle, name = tempfile.mkstemp(prefix=f".{file.name}.", suffix=".new", dir=file.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        mode = file.stat().st_mode & 0o777 if file.exists() else 0o644
        Path(name).chmod(mode)
        Path(name).replace(file)
    except OSError as trouble:
        raise StoreError(f"{file.name} can't be written: {trouble.strerror}.") from None
