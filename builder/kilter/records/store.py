"""The folder of records: one file a record and version, named by what is in it, so that none can take another's place.

`taken/ID-DIGEST.json` records, `plans/HASH.json` what a document asked for, `receipts/` what was received when,
`decided.json` what a person decided. Deleting it is the shop's affair; no command here deletes a record that is not
wholly contained in a longer one.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections import defaultdict
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from kilter.model.record import Receipt, Record
from kilter.outcome import CouldNotRunError
from kilter.records.canonical import digest_of, written
from kilter.records.lock import locked
from kilter.records.merge import Decision, counting, goes_on_from
from kilter.records.read import read_records
from kilter.source import Source

FOLDER = "records"
TAKEN, PLANS, RECEIPTS, DECIDED, ANSWERED = "taken", "plans", "receipts", "decided.json", "answered.json"
ID = 36
"""Characters of a record's id, with which the name of its file begins."""
MOST_WORDS = 500
"""Of an answer to a remark."""


@dataclass
class Outcome:
    """What became of records that were given."""

    new: list[Record] = field(default_factory=list)
    longer: list[Record] = field(default_factory=list)
    """Take the place of a shorter version that they go on from."""
    known: list[Record] = field(default_factory=list)
    """Received before, also as part of a longer one."""
    differing: list[Record] = field(default_factory=list)
    """Contradict a version that was received before; both stay."""


class RecordStore:
    """The records of one shop."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder

    def begin(self) -> None:
        """Make the folder where it is not there yet."""
        for name in (TAKEN, PLANS, RECEIPTS):
            (self.folder / name).mkdir(parents=True, exist_ok=True)

    def all(self, kind: str = "") -> list[Record]:
        """Every version that is there, or those of a kind. Raises CouldNotRunError for a file that was changed by hand."""
        mark = f'"kind":"{kind}"'.encode()
        files = sorted((self.folder / TAKEN).glob("*.json"))
        return [_read(f, data) for f in files if mark in (data := f.read_bytes()) or not kind]

    def counting(self, kind: str = "") -> list[Record]:
        """Every record in its longest version."""
        return counting(self.all(kind))

    def take(self, records: Iterable[Record]) -> Outcome:
        """Add what is new. Two at once are kept apart by a lock; a record is whole on the disk or not there."""
        self.begin()
        outcome = Outcome()
        with locked(self.folder):
            files: dict[str, list[Path]] = defaultdict(list)
            for file in sorted((self.folder / TAKEN).glob("*.json")):
                files[file.name[:ID]].append(file)
            for record in records:
                self._take(record, files[record.id], outcome)
        return outcome

    def _take(self, record: Record, files: list[Path], outcome: Outcome) -> None:
        """`files` are those of the versions that are there."""
        alike = [_read(file) for file in files]
        if any(goes_on_from(other, record) for other in alike):
            outcome.known.append(record)
            return
        file = self.folder / TAKEN / name_of(record)
        put(file, written(record))
        files.append(file)
        shorter = [other for other in alike if goes_on_from(record, other)]
        for other in shorter:
            file = self.folder / TAKEN / name_of(other)
            file.unlink(missing_ok=True)
            files.remove(file)
        left = [other for other in alike if other not in shorter]
        kind = outcome.differing if left else outcome.longer if shorter else outcome.new
        kind.append(record)

    def keep_plan(self, plan: dict[str, Any]) -> bool:
        """Keep what a document asked for, so that its records can be checked later; whether it was new."""
        file = self.folder / PLANS / f"{plan['hash']}.json"
        if file.exists():
            return False
        file.parent.mkdir(parents=True, exist_ok=True)
        put(
            file,
            (json.dumps(plan, ensure_ascii=False, sort_keys=True, separators=(",", ":")) + "\n").encode(),
        )
        return True

    def plan(self, hash: str) -> dict[str, Any] | None:
        """The plan of a document's content hash, if it was kept."""
        try:
            data = json.loads((self.folder / PLANS / f"{hash}.json").read_text(encoding="utf-8"))
        except (OSError, ValueError):
            return None
        return data if isinstance(data, dict) else None

    def add_receipt(self, receipt: Receipt) -> Path:
        """Kept for good: it says when each record came."""
        day = receipt.taken[:19].replace(":", "")
        file = self.folder / RECEIPTS / f"{day}-{receipt.digest[:8]}.json"
        put(file, written(receipt))
        return file

    def receipts(self) -> list[Receipt]:
        """Every receipt that was given, the oldest first; one that was changed by hand is left out."""
        found = []
        for file in sorted((self.folder / RECEIPTS).glob("*.json")):
            data = json.loads(file.read_text(encoding="utf-8"))
            if digest_of(data) == data.get("digest"):
                found.append(Receipt.model_validate(data))
        return found

    def decided(self) -> dict[str, Decision]:
        """By digest, what a person said of a record."""
        return self._table(DECIDED)

    def decide(self, said: dict[str, Decision]) -> None:
        self._add(DECIDED, said)

    def answered(self) -> dict[str, str]:
        """By id, what was said to a remark."""
        return self._table(ANSWERED)

    def answer(self, id: str, words: str) -> None:
        self._add(ANSWERED, {id: words})

    def _table(self, name: str) -> dict[str, Any]:
        file = self.folder / name
        if not file.is_file():
            return {}
        try:
            data = json.loads(file.read_text(encoding="utf-8"))
        except ValueError as trouble:
            raise CouldNotRunError(
                f"{file}: is no JSON any more: {trouble}; put it back from a copy"
            ) from None
        return data if isinstance(data, dict) else {}

    def _add(self, name: str, more: dict[str, Any]) -> None:
        self.begin()
        with locked(self.folder):
            table = self._table(name) | more
            put(
                self.folder / name,
                (json.dumps(table, ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode(),
            )


def _read(file: Path, data: bytes | None = None) -> Record:
    """A record that was taken in: what is as it was written is read the quick way, for the rest it is said what is wrong."""
    data = file.read_bytes() if data is None else data
    with suppress(ValueError):  # pydantic's errors are such too
        record = Record.model_validate(json.loads(data))
        rest = data.removesuffix(b"\n").replace(f'"digest":"{record.digest}",'.encode(), b"", 1)
        if hashlib.sha256(rest).hexdigest() == record.digest:
            return record
    source = Source(file.as_posix(), data.decode("utf-8", "replace"))
    taken, findings = read_records(source, clock_was_set=True)
    if findings or len(taken) != 1:
        said = f"{findings[0].span}: {findings[0].message}" if findings else f"{file}: holds no single record"
        raise CouldNotRunError(
            f"{said}; it was changed after it was taken in: put the file back from a copy, or move it away"
        )
    return taken[0].record


def name_of(record: Record) -> str:
    """The name of a record's file: its id and version."""
    return f"{record.id}-{record.digest[:16]}.json"


def put(file: Path, data: bytes) -> None:
    """Write a file whole or not at all."""
    handle, name = tempfile.mkstemp(prefix=".", suffix=".new", dir=file.parent)
    aside = Path(name)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        aside.chmod(0o644)
        aside.replace(file)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise
