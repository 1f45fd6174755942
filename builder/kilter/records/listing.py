"""Records as lines in a terminal: which jobs there are, which are open, what was out of limits."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from kilter.model.base import fold
from kilter.model.record import Record
from kilter.records.merge import counting, differing, doubles
from kilter.records.read import sorted_by_time
from kilter.records.store import RecordStore


@dataclass(frozen=True)
class Asked:
    """What to list; empty for all."""

    document: str = ""
    asset: str = ""
    open: bool = False
    """Only runs that have not ended."""
    out: bool = False
    """Only runs in which something was found out of its limits."""

    def takes(self, record: Record) -> bool:
        return (
            record.kind == "run"
            and (not self.document or fold(record.document) == fold(self.document))
            and (not self.asset or fold(record.asset) == fold(self.asset))
            and (not self.open or not record.exit)
            and (not self.out or found_out(record) > 0)
        )


def found_out(record: Record) -> int:
    """How many readings were out of limits before anything was done to them."""
    return sum(r.verdict == "fail" and r.phase != "as left" for r in record.readings)


def jobs_listed(store: RecordStore, asked: Asked) -> list[str]:
    """One line a job, and under it what a person should know of it."""
    records = store.counting()
    notes = _Notes(store, records)
    rows, under = [], []
    for record in filter(asked.takes, sorted_by_time(records)):
        rows.append(_row(record))
        under.append(notes.of(record))
    head = ("id", "began", "document", "asset", "who", "how it stands", "readings")
    return _lines(head, rows, under)


def _row(record: Record) -> tuple[str, ...]:
    return (
        record.id[:8],
        record.started[:16].replace("T", " "),
        f"{record.document} {record.revision}",
        record.asset,
        record.worker,
        record.exit or "open",
        str(len(record.readings)),
    )


@dataclass
class _Notes:
    store: RecordStore
    records: Iterable[Record]
    by_digest: dict[str, list[str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        records = counting(self.records)
        decided = self.store.decided()
        digests = {record.digest for record in records}
        for record in records:
            for note in self._own(record, digests):
                self._add(record, note)
            if said := decided.get(record.digest):
                self._add(record, f"decided: {said}")
        for alike in differing(records).values():
            for record in alike:
                if record.digest not in decided:
                    self._add(
                        record,
                        f"came in versions that differ; settle with: kilter records settle {record.digest[:12]}",
                    )
        for pair in doubles(records):
            if pair.other.digest not in decided:
                what = "the same job as" if pair.sure else "perhaps the same job as"
                does = (
                    "; left out of table and count"
                    if pair.sure
                    else f"; if so: kilter records settle {pair.other.digest[:12]} --leave-out"
                )
                self._add(pair.other, f"{what} {pair.counts.id[:8]}{does}")

    def _own(self, record: Record, digests: set[str]) -> Iterable[str]:
        if out := found_out(record):
            yield f"{out} reading{'' if out == 1 else 's'} found out of limits"
        close = sum(r.verdict == "too close to call" for r in record.readings)
        if close:
            yield f"{close} too close to call"
        if self.store.plan(record.hash) is None:
            yield f"never checked against its document: revision {record.revision} is not known here"
        if record.previous and record.previous not in digests:
            yield f"the record before it on that phone ({record.previous[:12]}) has not come in"

    def _add(self, record: Record, note: str) -> None:
        self.by_digest.setdefault(record.digest, []).append(note)

    def of(self, record: Record) -> list[str]:
        return self.by_digest.get(record.digest, [])


def _lines(head: tuple[str, ...], rows: list[tuple[str, ...]], under: list[list[str]]) -> list[str]:
    wide = [max(len(row[n]) for row in (head, *rows)) for n in range(len(head))]

    def lay(row: tuple[str, ...]) -> str:
        return "  ".join(cell.ljust(width) for cell, width in zip(row, wide, strict=True)).rstrip()

    lines = [lay(head)] if rows else []
    for row, notes in zip(rows, under, strict=True):
        lines += [lay(row), *(f"          {note}" for note in notes)]
    return lines
