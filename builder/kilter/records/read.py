"""From a file to records: each is in form, is whole, and fits together in itself; else a finding with its place."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from pydantic import ValidationError

from kilter.diagnostic import Diagnostic, error
from kilter.model.record import SCHEMA, Answer, Ended, Record, Withdrawn
from kilter.records.canonical import digest_of
from kilter.records.places import NotRecordError, Places, Way, read_json
from kilter.source import Source, Span

RULE = "record"
SAID = {
    "missing": "is missing",
    "extra_forbidden": "is no part of a record",
    "string_type": "has to be a string",
    "string_pattern_mismatch": "is not written as a record has it",
    "string_too_long": "is too long",
    "string_too_short": "is empty",
    "union_tag_invalid": "is no kind of entry",
    "union_tag_not_found": "has no kind",
    "literal_error": "is not one of what is possible",
}
HELP = {
    "value": "digits with a point, such as 7.90 or -0.30; no comma, no exponent",
    "at": "local time with its offset, such as 2026-11-28T10:02:11+01:00",
    "started": "local time with its offset, such as 2026-11-28T10:02:11+01:00",
    "finished": "local time with its offset, such as 2026-11-28T10:02:11+01:00",
    "worker": "a short code of up to 8 characters, not a name",
    "text": "at most 500 characters",
    "schema": f"this kilter knows `{SCHEMA}`",
}


@dataclass(frozen=True)
class Taken:
    """One record and where it stands."""

    record: Record
    source: Source
    places: Places = field(repr=False)
    way: Way = ()
    """Where it is in its file."""

    def span(self, *way: str | int) -> Span:
        """Of a value inside, or of the nearest one around it."""
        return _span(self.source, self.places, (*self.way, *way))


def read_records(source: Source, clock_was_set: bool = False) -> tuple[list[Taken], list[Diagnostic]]:
    """The sound records of a file: one, or a list of them; and what is wrong with the others.

    With `clock_was_set` somebody has said that a phone's clock was put right during the work: times may step back.
    """
    try:
        data, places = read_json(source.text)
    except NotRecordError as trouble:
        span = source.span(trouble.start, trouble.end)
        return [], [error(RULE, trouble.message, span, trouble.help)]
    many = enumerate(data) if isinstance(data, list) else [(None, data)]
    taken, findings = [], []
    for n, one in many:
        way: Way = () if n is None else (n,)
        wrong = list(_wrong_form(one, source, places, way))
        if not wrong:
            found = Taken(Record.model_validate(one), source, places, way)
            wrong = [*_changed(found, one), *_unfit(found), *_times(found, clock_was_set)]
            taken += [] if wrong else [found]
        findings += wrong
    return taken, findings


def _span(source: Source, places: Places, way: Way) -> Span:
    while way not in places:
        way = way[:-1]
    return source.span(*places[way])


def _wrong_form(data: Any, source: Source, places: Places, way: Way) -> Iterator[Diagnostic]:
    if not isinstance(data, dict):
        yield error(RULE, "this is no record", _span(source, places, way), "a record is an object in braces")
        return
    if data.get("schema") != SCHEMA:
        span = _span(source, places, (*way, "schema"))
        yield error(RULE, "this is no record of a phone", span, HELP["schema"])
        return
    try:
        Record.model_validate(data)
    except ValidationError as trouble:
        for each in trouble.errors():
            yield _told(each["loc"], each["type"], source, places, way)
    for inside, text in _strings(data, way):
        if unicodedata.normalize("NFC", text) != text:
            yield error(RULE, f"`{inside[-1]}` is not in Unicode NFC", _span(source, places, inside))


def _told(loc: tuple[str | int, ...], kind: str, source: Source, places: Places, way: Way) -> Diagnostic:
    """Pydantic's way holds the kind of the entry as well, which is no place in the file."""
    inside = tuple(part for n, part in enumerate(loc) if not (n == 2 and loc[0] == "entries"))
    if kind in ("union_tag_invalid",):
        inside = (*inside, "kind")
    key = next((part for part in reversed(inside) if isinstance(part, str)), "the record")
    said = SAID.get(kind, "is not what it has to be")
    return error(RULE, f"`{key}` {said}", _span(source, places, (*way, *inside)), HELP.get(str(key), ""))


def _strings(value: Any, way: Way) -> Iterator[tuple[Way, str]]:
    if isinstance(value, str):
        yield way, value
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from _strings(each, (*way, key))
    elif isinstance(value, list):
        for n, each in enumerate(value):
            yield from _strings(each, (*way, n))


def _changed(taken: Taken, data: dict[str, Any]) -> Iterator[Diagnostic]:
    if digest_of(data) != taken.record.digest:
        yield error(
            RULE,
            "the record was changed after it was handed over: its digest does not fit",
            taken.span("digest"),
            "take the file from the phone once more",
        )


def _unfit(taken: Taken) -> Iterator[Diagnostic]:
    """What can be seen without the document: order, and that head and entries say the same."""
    record = taken.record
    for n, entry in enumerate(record.entries):
        if entry.n != str(n + 1):
            yield error(
                RULE,
                f"entry {n + 1} calls itself {entry.n}: one is missing or was moved",
                taken.span("entries", n, "n"),
            )
        if isinstance(entry, Withdrawn):
            before = record.entries[:n]
            if not any(isinstance(e, Answer) and e.n == entry.entry for e in before):
                yield error(
                    RULE,
                    f"it takes back entry {entry.entry}, which is no answer before it",
                    taken.span("entries", n, "entry"),
                )
    yield from _ends(taken)
    remarks = [e for e in record.entries if e.kind == "remark"]
    if record.kind == "remark" and (len(record.entries) != 1 or len(remarks) != 1):
        yield error(RULE, "a remark holds one entry, the remark", taken.span("entries"))
    if record.kind == "run" and remarks:
        yield error(RULE, "a remark is a record of its own", taken.span("entries"))
    if record.kind == "run" and not record.worker:
        yield error(RULE, "`worker` is empty", taken.span("worker"), HELP["worker"])
    if record.previous and record.previous == record.digest:
        yield error(RULE, "the record comes after itself", taken.span("previous"))


def _ends(taken: Taken) -> Iterator[Diagnostic]:
    record = taken.record
    ended = [entry for entry in record.entries if isinstance(entry, Ended)]
    exit = ended[-1].exit if ended else ""
    if record.exit != exit:
        yield error(RULE, f"the head says `{record.exit}`, the entries `{exit}`", taken.span("exit"))
    finished = record.entries[-1].at if ended else ""
    if record.finished != finished:
        yield error(RULE, "`finished` is not the time of the last entry", taken.span("finished"))


def _times(taken: Taken, clock_was_set: bool) -> Iterator[Diagnostic]:
    """By instant: when summer time ends, 02:50+02:00 comes before 02:10+01:00."""
    stops: list[tuple[Way, str]] = [(("started",), taken.record.started)]
    stops += [(("entries", n, "at"), entry.at) for n, entry in enumerate(taken.record.entries)]
    last: datetime | None = None
    for way, text in stops:
        now = instant(text)
        if now is None:
            yield error(RULE, f"`{text}` is no day of the calendar", taken.span(*way))
            continue
        if last is not None and now < last and not clock_was_set:
            yield error(
                RULE,
                "time runs backwards here: the entry is older than the one before it",
                taken.span(*way),
                "if the phone's clock was put right during the work, say so with --clock-was-set",
            )
        last = now


def instant(text: str) -> datetime | None:
    """The moment that a time names; None for 30 February."""
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return None


def sorted_by_time(records: Iterable[Record]) -> list[Record]:
    """By the instant they began."""
    return sorted(records, key=lambda r: (datetime.fromisoformat(r.started).timestamp(), r.id, r.digest))
