"""A record as a page to print: PDF/UA, with the record itself attached."""

from __future__ import annotations

import unicodedata
from functools import cache
from pathlib import Path
from typing import Any

from kilter.model import record as form
from kilter.model.record import Record
from kilter.publish.cards.template import Template
from kilter.records.canonical import canonical, plain

PLAIN_WORDS = {
    "done": "done",
    "away": "called away: proofs of zero are void",
    "stop": "stopped here: proofs of zero are void",
    "idle": "nothing entered for too long: proofs of zero are void",
}


@cache
def _template() -> Template:
    return Template("record.typ", Path(__file__).parent)


def page(record: Record) -> bytes:
    """The PDF, the same bytes for the same record."""
    return _template().pdf(page_data(record))


def page_data(record: Record) -> dict[str, Any]:
    what = "Remark" if record.kind == "remark" else "Record of work"
    return {
        "title": f"{what}: {record.document} revision {record.revision}",
        "foot": f"{record.document} {record.revision}  {record.asset}  {record.id}",
        "head": _head(record),
        "state": _state(record),
        "readings": [_reading(r) for r in record.readings],
        "entries": [
            {"time": _time(e.at), "step": e.number, "words": shown(words_of(e))} for e in record.entries
        ],
        "digest": record.digest,
        "previous": record.previous,
        "json": canonical(plain(record)),
    }


def _head(record: Record) -> list[dict[str, Any]]:
    cells = [
        ("Asset number", record.asset, 1),
        ("Serial number", record.serial, 1),
        ("Work order", record.work_order, 1),
        ("Worker", record.worker, 1),
        ("Equipment", record.equipment, 1),
        ("Content hash", record.hash[:12], 1),
        ("Began", _time(record.started), 1),
        ("Ended", _time(record.finished), 1),
    ]
    return [{"name": name, "value": shown(value), "wide": wide} for name, value, wide in cells]


def _state(record: Record) -> str:
    if record.kind == "remark":
        return ""
    return (
        f"Machine {record.exit}."
        if record.exit
        else "Not ended: this is how the work stood when the record was handed over."
    )


def _reading(reading: form.Reading) -> dict[str, Any]:
    by = f" ± {reading.uncertainty}" if reading.uncertainty else ""
    due = f", calibration due {reading.calibration_due}" if reading.calibration_due else ""
    return {
        "step": reading.number,
        "name": shown(", ".join(filter(None, (reading.name, reading.phase)))),
        "limits": shown(reading.limits),
        "value": shown(f"{reading.value}{by} {reading.unit}".strip()),
        "verdict": reading.verdict,
        "bad": reading.verdict in ("fail", "too close to call"),
        "tool": shown(f"{reading.tool} {reading.tool_id}".strip() + due),
    }


def words_of(entry: form.Entry) -> str:
    """One entry in plain words."""
    match entry:
        case form.Begin():
            return f"began, {entry.worker}"
        case form.Caution():
            return f"warning read ({entry.words})"
        case form.Answer():
            mark = f"; not at zero: {entry.failed}" if entry.failed else "; not sound" if entry.not_ok else ""
            return f"answered: {entry.text}{mark}"
        case form.Withdrawn():
            return f"entry {entry.entry} was answered wrongly"
        case form.Reading():
            return f"read {entry.value} {entry.unit} ({entry.limits}): {entry.verdict}"
        case form.Waiting():
            return f"wait of {entry.wanted} s begun"
        case form.Wait():
            return f"waited {entry.waited} s of {entry.wanted} s"
        case form.Hold():
            return f"second person: {entry.initials}"
        case form.Back():
            return f"back; lock missing: {entry.missing}" if entry.missing else "back; all locks in place"
        case form.Safe():
            return f"made safe again: {entry.names}"
        case form.Handover():
            return f"handed over to {entry.to}; locks off: {entry.locks_off or 'none'}; locks on: {entry.locks_on or 'none'}"
        case form.Revision():
            return f"revision {entry.in_force} in force: {entry.choice}"
        case form.Written() | form.Remark():
            return entry.text
        case form.Ended():
            return f"ended: {entry.exit}"
        case _:
            return PLAIN_WORDS[entry.kind]  # type: ignore[attr-defined]


def _time(text: str) -> str:
    return text.replace("T", " ")


def shown(text: str) -> str:
    """As letters that paper can show: no sign that turns the order of reading."""
    return "".join(
        c for c in text if unicodedata.category(c) not in ("Cc", "Cf", "Cs", "Co", "Cn") or c == "\n"
    )
