"""Remarks that a step is wrong, for the writer: which are open, and whether the step has changed since."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kilter.model.base import fold
from kilter.model.record import Record, Remark
from kilter.records.store import RecordStore


@dataclass(frozen=True)
class Said:
    """One remark as the writer meets it."""

    record: Record
    remark: Remark
    answer: str
    """What was said to it; empty while it is open."""

    @property
    def who(self) -> str:
        """`AB, 2026-11-28, revision B`."""
        worker = f"{self.record.worker}, " if self.record.worker else ""
        return f"{worker}{self.remark.at[:10]}, revision {self.record.revision}"


def remarks(store: RecordStore, document: str = "", answered: bool = False) -> list[Said]:
    """Of one document or of all; those that were answered only if asked for."""
    said = store.answered()
    found = _remarks(store.counting("remark"), said)
    return [
        one
        for one in found
        if (not document or fold(one.record.document) == fold(document)) and (answered or not one.answer)
    ]


def _remarks(records: Iterable[Record], said: dict[str, str]) -> Iterable[Said]:
    for record in records:
        if record.remark is not None:
            yield Said(record, record.remark, said.get(record.id, ""))
