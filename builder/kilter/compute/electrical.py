"""Limits of electrical safety after repair, chosen by class and applied part, and the comparison with before.

The limits are a table that a library can replace (`electrical_limits.toml` says how); every row names its standard,
edition and whether it was read or is from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.value import Quantity

MEASURES = {
    "protective earth": "resistance",
    "equipment leakage": "current",
    "applied part leakage": "current",
    "touch current": "current",
    "insulation": "resistance",
}
FACTS = ("class", "part", "cord", "method")
"""What a row may depend on; a row without one of them holds whatever it is."""
RISE = Fraction(1, 5)
"""Share by which a reading may get worse in a repair before somebody should ask why: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One row of the table."""

    standard: str
    edition: str
    measure: str
    facts: tuple[tuple[str, str], ...]
    limit: Quantity
    note: str
    mark: str


class TableError(ValueError):
    """A table of limits that can't be used; the message names the row and what is wrong."""


@cache
def shipped() -> tuple[Limit, ...]:
    """The limits that come with Kilter."""
    from importlib.resources import files

    return read_table(files("kilter.compute").joinpath("electrical_limits.toml").read_text(encoding="utf-8"))


def read_table(text: str) -> tuple[Limit, ...]:
    """The rows of a table; raises TableError."""
    import tomllib

    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        raise TableError(f"it is no TOML: {trouble}") from None
    rows = data.get("limit")
    if not isinstance(rows, list) or not rows or set(data) != {"limit"}:
        raise TableError("rows are missing: each begins with `[[limit]]`")
    return tuple(_row(n, row) for n, row in enumerate(rows, 1))


def _row(number: int, row: Any) -> Limit:
    needed = ("standard", "edition", "measure", "limit", "mark")
    if not isinstance(row, dict) or any(not isinstance(v, str) for v in row.values()):
        raise TableError(f"row {number}: every entry is a text in quotes")
    for key in needed:
        if not row.get(key):
            raise TableError(f"row {number}: `{key}` is missing")
    unknown = set(row) - {*needed, *FACTS, "note"}
    if unknown:
        raise TableError(
            f"row {number}: `{min(unknown)}` is not known; possible: {', '.join((*needed, *FACTS, 'note'))}"
        )
    if row["measure"] not in MEASURES:
        raise TableError(f"row {number}: no measure `{row['measure']}`; possible: {', '.join(MEASURES)}")
    if row["mark"] not in ("read", "memory"):
        raise TableError(f"row {number}: `mark` is `read` or `memory`")
    try:
        limit = parse_quantity(row["limit"])
    except QuantityError as trouble:
        raise TableError(f"row {number}: `{row['limit']}`: {trouble.message}; {trouble.help}") from None
    if not limit.has_limit or limit.dimension != MEASURES[row["measure"]]:
        raise TableError(f"row {number}: `{row['limit']}` is no limit of a {MEASURES[row['measure']]}")
    facts = tuple((fact, row[fact]) for fact in FACTS if fact in row)
    return Limit(
        row["standard"], row["edition"], row["measure"], facts, limit, row.get("note", ""), row["mark"]
    )


def choose(table: Iterable[Limit], measure: str, facts: Mapping[str, str], standard: str = "") -> list[Limit]:
    """The rows that hold for a measure and these facts, the most particular first.

    A row that depends on a fact which is not given is among them: the caller sees that there are several.
    """
    found = [
        row
        for row in table
        if row.measure == measure
        and (not standard or row.standard.casefold() == standard.casefold())
        and all(facts.get(name, said).casefold() == said.casefold() for name, said in row.facts)
    ]
    return sorted(found, key=lambda row: -sum(name in facts for name, _ in row.facts))


def undecided(rows: Iterable[Limit], facts: Mapping[str, str]) -> dict[str, list[str]]:
    """The facts that would tell the rows apart, each with its possible words."""
    asked: dict[str, list[str]] = {}
    for row in rows:
        for name, said in row.facts:
            if name not in facts and said not in asked.setdefault(name, []):
                asked[name].append(said)
    return asked


@dataclass(frozen=True, slots=True)
class Comparison:
    """A reading after repair beside the one before."""

    worse_by: Fraction
    """Share of the reading before by which it got worse; below zero if it got better."""
    remarkable: bool
    """Whether somebody should ask why, though the limit may be kept."""


def compare(before: Fraction, after: Fraction, limit: Quantity) -> Comparison:
    """Before against after; more is worse, except where the limit is a least value. Raises ZeroDivisionError."""
    change = (after - before) / before
    worse = -change if limit.base_high is None else change
    return Comparison(worse, worse > RISE)
