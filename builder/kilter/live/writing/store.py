"""Texts from the disk and back: in the form they had, never over somebody else's change."""

from __future__ import annotations

import contextlib
import hashlib
import os
import re
import tempfile
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path

from kilter.mend.write import Change, ChangedMeanwhileError, write
from kilter.source import MAX_BYTES

_BOM = b"\xef\xbb\xbf"
_ROW = re.compile(r"([^\r\n]*)(\r\n|\r|\n|$)")
NOTHING = ""
"""The hash of a file that is not there."""


class StoreError(Exception):
    """The file can't be read or written; the message is for the writer."""


@dataclass(frozen=True)
class Held:
    """A file as it stands on the disk; `text` has LF line ends and no byte-order mark."""

    text: str
    hash: str


class ChangedError(Exception):
    """The file is no longer what was loaded; `theirs` is what stands there now, None if it is gone."""

    def __init__(self, theirs: Held | None) -> None:
        super().__init__("the file has changed meanwhile")
        self.theirs = theirs


def load(file: Path) -> Held | None:
    """What stands in a file; None if there is none. Raises StoreError."""
    data = _bytes(file)
    return None if data is None else _held(data)


def _bytes(file: Path) -> bytes | None:
    try:
        if file.exists() and not file.is_file():
            raise StoreError("It is no plain file.")
        if file.exists() and file.stat().st_size > MAX_BYTES:
            raise StoreError(f"The file is larger than {MAX_BYTES:,} bytes: write it in another editor.")
        return file.read_bytes()
    except FileNotFoundError:
        return None
    except OSError as trouble:
        raise StoreError(f"The file can't be read: {trouble.strerror}.") from None


def _held(data: bytes) -> Held:
    try:
        text = data.removeprefix(_BOM).decode("utf-8")
    except UnicodeDecodeError as trouble:
        row = data[: trouble.start].count(b"\n") + 1
        raise StoreError(
            f"The file is not UTF-8 (line {row}): save it as UTF-8 in another editor first."
        ) from None
    return Held(text.replace("\r\n", "\n").replace("\r", "\n"), hashlib.sha256(data).hexdigest())


def save(file: Path, text: str, base: str) -> Held:
    """Write a text over the version whose hash is `base` (NOTHING for a new file).

    Raises ChangedError, writing nothing, if another version stands there; StoreError if it can't be written.
    """
    before = _bytes(file)
    now = None if before is None else _held(before)
    if (now.hash if now else NOTHING) != base:
        raise ChangedError(now)
    after = formed(before, text)
    if len(after) > MAX_BYTES:
        raise StoreError(f"The text is larger than {MAX_BYTES:,} bytes: split it into several documents.")
    try:
        if before is None:
            _create(file, after)
        else:
            write([Change(file, before, after)])
    except (ChangedMeanwhileError, FileExistsError):
        raise ChangedError(load(file)) from None
    except OSError as trouble:
        raise StoreError(f"The file can't be written: {trouble.strerror}.") from None
    return _held(after)


def _create(file: Path, data: bytes) -> None:
    """A new file, whole from its first moment on; raises FileExistsError if there is one."""
    file.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix=f".{file.name}.", suffix=".new", dir=file.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        Path(name).chmod(0o666 & ~_umask())
        os.link(name, file)
    finally:
        with contextlib.suppress(OSError):
            Path(name).unlink()


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def formed(before: bytes | None, text: str) -> bytes:
    """A text in the form of what it replaces: byte-order mark, line ends and final line end stay.

    Raises StoreError for half a character, which no file can hold.
    """
    rows = text.replace("\r\n", "\n").replace("\r", "\n")
    try:
        if before is None:
            return (rows.rstrip("\n") + "\n").encode("utf-8")
        bom = _BOM if before.startswith(_BOM) else b""
        old = before.removeprefix(_BOM).decode("utf-8")
        return bom + _ended(old, rows).encode("utf-8")
    except UnicodeEncodeError:
        raise StoreError("The text holds half a character: type it again.") from None


def _ended(old: str, text: str) -> str:
    """The text with the line ends that its rows had; a new row takes that of the row above it."""
    before = [(m[1], m[2]) for m in _ROW.finditer(old) if m[0]]
    if before and before[-1][1]:
        text = text if text.endswith("\n") else text + "\n"
    elif before:
        text = text.removesuffix("\n")
    after = [(m[1], m[2]) for m in _ROW.finditer(text) if m[0]]
    ends = [end for _, end in before if end]
    usual = max(set(ends), key=ends.count) if ends else "\n"
    if set(ends) <= {usual}:
        return "".join(row + (usual if end else "") for row, end in after)
    return "".join(_mixed(before, after, usual))


def _mixed(before: list[tuple[str, str]], after: list[tuple[str, str]], usual: str) -> list[str]:
    matcher = SequenceMatcher(None, [r for r, _ in before], [r for r, _ in after], autojunk=False)
    kept = {b.b + n: before[b.a + n][1] for b in matcher.get_matching_blocks() for n in range(b.size)}
    written: list[str] = []
    last = usual
    for n, (row, end) in enumerate(after):
        last = kept.get(n) or last
        written.append(row + (last if end else ""))
    return written
