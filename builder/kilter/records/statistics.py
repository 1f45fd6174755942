"""What many records say together, and no more than they can: out of limits as found, and drift pooled over machines.

The bound is Clopper and Pearson's, one-sided 95 %: with k of n out of limits, the share at which k or fewer would
turn up in one case of twenty. Drift is the sum of what changed over the sum of the years, its scatter taken to grow
with the root of time. Both only for readings that are written alike: another limit begins another count.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from math import comb, sqrt

from kilter.model.base import fold
from kilter.model.record import Reading, Record
from kilter.records.read import sorted_by_time

CONFIDENCE = 0.95
MACHINES, PAIRS = 10, 20
"""Below both, a drift is not told: five machines miss a real one half of the time."""
YEAR = 365.25 * 86400
Z = 1.96


def upper_share(out: int, of: int) -> float:
    """The highest share of all that `out` of `of` still allow, one-sided 95 %."""
    if out >= of:
        return 1.0
    low, high = out / of, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        so_few = sum(comb(of, k) * middle**k * (1 - middle) ** (of - k) for k in range(out + 1))
        low, high = (middle, high) if so_few > 1 - CONFIDENCE else (low, middle)
    return high


@dataclass(frozen=True)
class Count:
    """One reading as it was found, over all machines."""

    document: str
    name: str
    limits: str
    unit: str
    out: int
    of: int
    machines: int

    @property
    def upper(self) -> float:
        return upper_share(self.out, self.of)


@dataclass(frozen=True)
class Drift:
    """What a reading changes by in a year while nobody touches it."""

    per_year: float
    error: float
    """Half width of its 95 % interval."""
    machines: int
    pairs: int

    @property
    def told(self) -> bool:
        return self.machines >= MACHINES or self.pairs >= PAIRS


Key = tuple[str, str, str, str]


def key_of(record: Record, reading: Reading) -> Key:
    return record.document, reading.name, reading.limits, reading.unit


def counts(records: Iterable[Record]) -> list[Count]:
    """First readings as found with limits, one a record, by document and name."""
    found: dict[Key, list[tuple[str, bool]]] = defaultdict(list)
    for record in sorted_by_time(records):
        seen = set()
        for reading in record.readings:
            key = key_of(record, reading)
            if reading.phase == "as found" and reading.verdict != "not judged" and key not in seen:
                seen.add(key)
                found[key].append((fold(record.asset), reading.verdict == "fail"))
    return [
        Count(*key, sum(out for _, out in each), len(each), len({asset for asset, _ in each}))
        for key, each in sorted(found.items())
    ]


def drifts(records: Iterable[Record]) -> dict[tuple[str, str, str], Drift]:
    """By document, name and unit: from what was left to what was found next on the same machine."""
    left: dict[tuple[str, ...], tuple[datetime, float]] = {}
    pairs: dict[tuple[str, str, str], list[tuple[str, float, float]]] = defaultdict(list)
    for record in sorted_by_time(records):
        asset = fold(record.asset)
        for reading in record.readings:
            kind = (record.document, fold(reading.name), reading.unit)
            at, value = datetime.fromisoformat(reading.at), float(reading.value)
            if reading.phase == "as found" and (before := left.pop((asset, *kind), None)):
                years = (at - before[0]).total_seconds() / YEAR
                if years > 0:
                    pairs[kind].append((asset, years, value - before[1]))
            elif reading.phase == "as left":
                left[asset, *kind] = (at, value)
    return {kind: _drift(each) for kind, each in pairs.items()}


def _drift(pairs: list[tuple[str, float, float]]) -> Drift:
    years = sum(each[1] for each in pairs)
    rate = sum(each[2] for each in pairs) / years
    scatter = sum((change - rate * span) ** 2 / span for _, span, change in pairs)
    error = Z * sqrt(scatter / max(1, len(pairs) - 1) / years)
    return Drift(rate, error, len({each[0] for each in pairs}), len(pairs))


def told(records: Iterable[Record]) -> list[str]:
    """Lines for a person, with what they do not say."""
    records = list(records)
    lines = []
    drift = drifts(records)
    for each in counts(records):
        lines.append(f"{each.document}: {each.name or 'reading'} ({each.limits}), as found")
        lines.append(
            f"    {each.out} of {each.of} out of limits on {each.machines} machine{'' if each.machines == 1 else 's'}; "
            f"up to {each.upper * 100:.0f} % of all may be (95 %)"
        )
        found = drift.get((each.document, fold(each.name), each.unit))
        if found is None:
            lines.append("    drift: no machine was left and found again")
        elif not found.told:
            lines.append(
                f"    drift: {found.pairs} interval{'' if found.pairs == 1 else 's'} on {found.machines} machines; "
                f"told from {MACHINES} machines or {PAIRS} intervals"
            )
        else:
            lines.append(
                f"    drift {found.per_year:+.3g} ± {found.error:.2g} {each.unit} a year (95 %), "
                f"{found.machines} machines, {found.pairs} intervals"
            )
    return lines
