"""Records of training as a table: one row for each step that somebody was signed off on, or paper passed."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from kilter.outcome import CouldNotRunError
from kilter.publish.training.packages.table import csv_bytes

COLUMNS = (
    "person",
    "document",
    "revision",
    "step",
    "step hash",
    "facts hash",
    "kind",
    "date",
    "observer",
    "months",
)
PAPER, SIGNED = "trained", "signed off"
KINDS = (PAPER, SIGNED)


@dataclass(frozen=True)
class Row:
    """One record; a person is a short code."""

    person: str
    document: str
    revision: str
    step: str
    """Slug; empty for a paper."""
    hash: str
    """12 hex digits of the step's facts; empty for a paper."""
    kind: str
    date: date
    observer: str
    months: int | None
    """Until it has to be shown again; None where nothing is said."""
    facts: str = ""
    """12 hex digits over the facts without the words; empty where the row was written by hand from a sheet."""
    line: int = 0

    @property
    def cells(self) -> tuple[str, ...]:
        months = "" if self.months is None else str(self.months)
        return (self.person, self.document, self.revision, self.step, self.hash, self.facts, self.kind, self.date.isoformat(), self.observer, months)  # fmt: skip


def read_rows(file: Path) -> tuple[Row, ...]:
    """All rows. Raises CouldNotRunError with the line of the first that is wrong: no record is guessed."""
    try:
        text = file.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise CouldNotRunError(f"{file}: no such file; begin one with `kilter training sign`") from None
    except (OSError, UnicodeDecodeError) as trouble:
        raise CouldNotRunError(f"{file}: can't be read: {trouble}") from None
    first = text.split("\n", 1)[0]
    reader = csv.DictReader(
        io.StringIO(text, newline=""), delimiter=";" if first.count(";") > first.count(",") else ","
    )
    missing = [c for c in COLUMNS if c != "facts hash" and c not in (reader.fieldnames or ())]
    if missing:
        raise CouldNotRunError(f"{file}:1: no column `{missing[0]}`; there have to be {', '.join(COLUMNS)}")
    return tuple(_rows(file, reader))


def _rows(file: Path, reader: csv.DictReader[str]) -> Iterator[Row]:
    for cells in reader:
        line = reader.line_num
        given = {c: (cells.get(c) or "").strip() for c in COLUMNS}
        given = {c: v[1:] if v.startswith("'") else v for c, v in given.items()}
        if not any(given.values()):
            continue
        try:
            yield _row(given, line)
        except ValueError as trouble:
            raise CouldNotRunError(f"{file}:{line}: {trouble}") from None


def _row(given: dict[str, str], line: int) -> Row:
    for name in ("person", "document"):
        if not given[name]:
            raise ValueError(f"no {name}")
    if given["kind"] not in KINDS:
        raise ValueError(f"kind `{given['kind']}`: write `{PAPER}` for a paper passed or `{SIGNED}`")
    try:
        day = date.fromisoformat(given["date"])
    except ValueError:
        raise ValueError(f"date `{given['date']}`: write it as 2026-11-28") from None
    if given["kind"] == SIGNED:
        if not given["step"] or len(given["step hash"]) != 12:
            raise ValueError(
                "what is signed off needs its step in the column `step`, and in `step hash` the 12 digits that the sheet prints as `facts`"
            )
        if not given["observer"] or given["observer"].casefold() == given["person"].casefold():
            raise ValueError("the observer is somebody else than the trainee")
    if given["months"] and not given["months"].isdecimal():
        raise ValueError(f"months `{given['months']}`: write a whole number, or nothing")
    months = int(given["months"]) if given["months"] else None
    return Row(given["person"], given["document"], given["revision"], given["step"], given["step hash"], given["kind"], day, given["observer"], months, given["facts hash"], line)  # fmt: skip


def write_rows(file: Path, rows: Iterable[Row]) -> None:
    """The whole table, written beside and then put in its place."""
    aside = file.with_name(f".{file.name}-{os.getpid()}")
    file.parent.mkdir(parents=True, exist_ok=True)
    try:
        aside.write_bytes(csv_bytes(COLUMNS, (r.cells for r in rows)))
        aside.replace(file)
    finally:
        aside.unlink(missing_ok=True)


def with_new(before: Sequence[Row], new: Iterable[Row]) -> tuple[Row, ...]:
    """Nothing that stands is changed; a row that stands already is not written twice."""
    known = {r.cells for r in before}
    return (*before, *(r for r in new if r.cells not in known))
