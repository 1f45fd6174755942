"""One row a reading, for the maintenance system; `site/app/csv.js` writes the same bytes.

UTF-8 with a mark, CRLF, always a header. A cell is safe by its column: text that a spreadsheet would run gets an
apostrophe (OWASP ASVS 5.0, 1.2.10), a number stays a number, also -0.30.
"""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path

from kilter.diagnostic import did_you_mean
from kilter.model.record import Reading, Record
from kilter.outcome import CouldNotRunError

COLUMNS = (
    "document",
    "revision",
    "asset",
    "serial",
    "work order",
    "worker",
    "step",
    "reading",
    "phase",
    "value",
    "unit",
    "limits",
    "uncertainty",
    "verdict",
    "tool",
    "tool number",
    "calibration due",
    "time",
    "record",
)
NUMBERS = frozenset({"value", "uncertainty"})
_RUN = ("=", "+", "-", "@", "\t", "\r", "\0")


def table_of(records: Iterable[Record], columns: Mapping[str, str] | None = None) -> bytes:
    """The whole file; `columns` are ours with the names that the shop gives them, in its order."""
    columns = columns or {name: name for name in COLUMNS}
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(_safe(name) for name in columns.values())
    for record in records:
        for reading in record.readings:
            row = _row(record, reading)
            writer.writerow(row[c] if c in NUMBERS else _safe(row[c]) for c in columns)
    return b"\xef\xbb\xbf" + stream.getvalue().encode()


def _row(record: Record, reading: Reading) -> dict[str, str]:
    cells = (
        record.document,
        record.revision,
        record.asset,
        record.serial,
        record.work_order,
        record.worker,
        reading.number,
        reading.name,
        reading.phase,
        reading.value,
        reading.unit,
        reading.limits,
        reading.uncertainty,
        reading.verdict,
        reading.tool,
        reading.tool_id,
        reading.calibration_due,
        reading.at,
        record.id,
    )
    return dict(zip(COLUMNS, cells, strict=True))


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(_RUN) else cell


def read_columns(file: Path) -> dict[str, str]:
    """The shop's names from a TOML file: a table `[columns]`, ours = theirs. Raises CouldNotRunError."""
    try:
        data = tomllib.loads(file.read_text(encoding="utf-8"))
    except FileNotFoundError:
        raise CouldNotRunError(f"{file}: no such file") from None
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as trouble:
        raise CouldNotRunError(f"{file}: no TOML that can be read: {trouble}") from None
    columns = data.get("columns")
    if not isinstance(columns, dict) or not columns:
        raise CouldNotRunError(f'{file}: write a table [columns] with lines such as "work order" = "WO_NO"')
    for name, theirs in columns.items():
        if name not in COLUMNS:
            raise CouldNotRunError(f"{file}: no column `{name}`; {did_you_mean(name, COLUMNS)}")
        if not isinstance(theirs, str):
            raise CouldNotRunError(f"{file}: the name for `{name}` has to be text in quotes")
    return columns
