"""Which records count, whatever the order in which they came and however often.

Every version of a record that was received is an element of a set; what counts is what no other version goes on
from. So the outcome hangs on the set alone. Nothing is overwritten: two versions that differ both stay.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from kilter.model.base import fold
from kilter.model.record import Record
from kilter.records.read import sorted_by_time

NEAR = timedelta(hours=2)
"""How far apart the same work, typed once more after a lost page, begins at most."""
ENOUGH = 2
"""Readings that have to be equal before two records are taken for one job; with fewer it is only proposed."""
HEAD = (
    "id",
    "kind",
    "document",
    "revision",
    "hash",
    "equipment",
    "asset",
    "serial",
    "work_order",
    "worker",
    "started",
    "zone_name",
    "previous",
)
"""What never changes while a run goes on."""


def goes_on_from(longer: Record, shorter: Record) -> bool:
    """Whether one is the other with more entries, or the same."""
    if any(getattr(longer, key) != getattr(shorter, key) for key in HEAD):
        return False
    return longer.entries[: len(shorter.entries)] == shorter.entries


def counting(records: Iterable[Record]) -> list[Record]:
    """The versions that no other goes on from, each once, by the time they began."""
    versions: dict[str, dict[str, Record]] = defaultdict(dict)
    for record in records:
        versions[record.id][record.digest] = record
    kept = []
    for alike in versions.values():
        for one in alike.values():
            others = (other for other in alike.values() if other.digest != one.digest)
            if not any(goes_on_from(other, one) for other in others):
                kept.append(one)
    return sorted_by_time(kept)


def differing(records: Iterable[Record]) -> dict[str, list[Record]]:
    """Records of one id that contradict each other: a person has to decide."""
    found: dict[str, list[Record]] = defaultdict(list)
    for record in counting(records):
        found[record.id].append(record)
    return {id: alike for id, alike in found.items() if len(alike) > 1}


@dataclass(frozen=True)
class Double:
    """Two records of what seems to be one job: same machine, document and readings, begun within two hours."""

    counts: Record
    """The fuller one, else the earlier."""
    other: Record
    sure: bool
    """Whether so many readings are equal that the other is left out; else a person decides."""


def doubles(records: Iterable[Record]) -> list[Double]:
    """Pairs of records that seem to be one job."""
    jobs: dict[tuple[object, ...], list[Record]] = defaultdict(list)
    for record in sorted_by_time(records):
        if record.kind == "run" and record.readings:
            jobs[fold(record.asset), record.document, record.hash, measured(record)].append(record)
    return [pair for alike in jobs.values() for group in _near(alike) for pair in _pairs(group)]


def _near(alike: list[Record]) -> Iterable[list[Record]]:
    """Records that begin within the time of the first of their group; `alike` is sorted by time."""
    group: list[Record] = []
    for record in alike:
        if group and _began(record) - _began(group[0]) > NEAR:
            yield group
            group = []
        group.append(record)
    yield group


def _pairs(group: list[Record]) -> Iterable[Double]:
    counts = max(group, key=lambda record: len(record.entries))
    sure = len(counts.readings) >= ENOUGH
    return (Double(counts, other, sure) for other in group if other.id != counts.id)


def measured(record: Record) -> tuple[tuple[str, ...], ...]:
    """All that was read, without when."""
    return tuple((r.id, r.occurrence, r.phase, r.value, r.unit, r.tool_id) for r in record.readings)


def _began(record: Record) -> datetime:
    return datetime.fromisoformat(record.started)


Decision = Literal["counts", "left out"]


def jobs(records: Iterable[Record], decided: Mapping[str, Decision]) -> list[Record]:
    """The records that count as jobs: of two that seem to be one only the fuller; decisions by digest come first."""
    records = counting(records)
    out = {d.other.digest for d in doubles(records) if d.sure}
    out -= {digest for digest, said in decided.items() if said == "counts"}
    out |= {digest for digest, said in decided.items() if said == "left out"}
    return [record for record in records if record.digest not in out]
