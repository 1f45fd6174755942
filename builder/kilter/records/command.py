"""What the actions of `kilter records` do."""

from __future__ import annotations

import argparse
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path

from kilter.model.record import Receipt, Record
from kilter.outcome import FINDINGS, OK, CouldNotRunError
from kilter.records import receipt as receipts
from kilter.records.listing import Asked, jobs_listed
from kilter.records.merge import jobs
from kilter.records.plans import Plans, keep_built
from kilter.records.store import FOLDER, Outcome, RecordStore, put
from kilter.records.take import Looked, look


def store_of(library: Path, records: Path | None) -> RecordStore:
    """The shop's records: those named, else `records/` beside mkdocs.yml. Raises CouldNotRunError."""
    if records is None and not (library / "mkdocs.yml").is_file():
        raise CouldNotRunError(
            f"{library / 'mkdocs.yml'}: not there; run this in the library's folder, or name the folder with --records"
        )
    folder = records or library / FOLDER
    if folder.exists() and not folder.is_dir():
        raise CouldNotRunError(f"{folder}: is no folder; name another with --records")
    return RecordStore(folder)


def take(store: RecordStore, arguments: argparse.Namespace) -> int:
    looked = _looked(store, arguments)
    outcome = store.take(looked.sound)
    for plan in looked.plans:
        store.keep_plan(dict(plan))
    _tell_outcome(outcome, store)
    if looked.sound:
        given = receipts.receipt_for(looked.sound, datetime.now().astimezone())
        print(f"receipt for the phone: {store.add_receipt(given)}")
        _tell_codes(given, looked.sound)
        _draw(given, arguments.qr)
    return FINDINGS if looked.refused else OK


def check(store: RecordStore, arguments: argparse.Namespace) -> int:
    looked = _looked(store, arguments)
    print(f"{_many(len(looked.sound), 'record')} in order; nothing was taken in")
    return FINDINGS if looked.refused else OK


def _looked(store: RecordStore, arguments: argparse.Namespace) -> Looked:
    from kilter.report.text import TextReport, summary

    looked = look(arguments.files, Plans(arguments.library, store), arguments.clock_was_set)
    if looked.findings:
        print(TextReport(looked.sources, arguments.colour).render(looked.findings))
    print(summary(looked.findings, looked.files))
    if not looked.files:
        raise CouldNotRunError(f"{arguments.files[0]}: no records in it: looked for .json and .txt")
    return looked


def _tell_outcome(outcome: Outcome, store: RecordStore) -> None:
    told = (
        ("new", outcome.new),
        ("longer than before", outcome.longer),
        ("received before", outcome.known),
        ("different from a version that is here; both are kept", outcome.differing),
    )
    for what, records in told:
        for record in records:
            print(f"  {record.id[:8]}  {_named(record)}: {what}")
    held = sum(map(len, (outcome.new, outcome.longer, outcome.known, outcome.differing)))
    print(f"{_many(held, 'record')} received, kept in {store.folder}")
    if outcome.differing:
        print("a person has to decide which counts: kilter records list")


def _named(record: Record) -> str:
    asset = f", {record.asset}" if record.asset else ""
    what = "remark" if record.kind == "remark" else record.exit or "open"
    return f"{record.document} {record.revision}{asset}, {what}"


def _tell_codes(given: Receipt, records: Iterable[Record]) -> None:
    named = {(r.id, r.digest): _named(r) for r in records}
    for held in given.records:
        print(f"  {receipts.code_of(held.id, held.digest)}  {named[held.id, held.digest]}")


def _draw(given: Receipt, file: Path | None) -> None:
    if file is None:
        return
    import io

    import segno

    stream = io.BytesIO()
    segno.make_qr(receipts.short(given), error="m").save(stream, kind="png", scale=6, border=4)
    put(file, stream.getvalue())
    print(file)


def listed(store: RecordStore, arguments: argparse.Namespace) -> int:
    asked = Asked(arguments.document, arguments.asset, arguments.open, arguments.out_of_limits)
    lines = jobs_listed(store, asked)
    print("\n".join(lines) if lines else f"no such record in {store.folder}")
    return OK


def remarks(store: RecordStore, arguments: argparse.Namespace) -> int:
    from kilter.records.remarks import remarks as said

    found = said(store, arguments.document, arguments.all)
    for one in found:
        print(f"{one.record.id[:8]}  {one.record.document} {one.remark.number} ({one.who})")
        print("\n".join(f"    {line}" for line in one.remark.text.splitlines()))
        if one.answer:
            print(f"    answered: {one.answer}")
    print(f"{_many(len(found), 'remark')}" + ("" if arguments.all else " open"))
    return OK


def answer(store: RecordStore, arguments: argparse.Namespace) -> int:
    record = _one((r for r in store.counting() if r.kind == "remark"), arguments.record, "id")
    if not arguments.words.strip():
        raise CouldNotRunError("say in a few words what was done about it, or why nothing")
    store.answer(record.id, arguments.words.strip())
    print(f"{record.id[:8]}: answered")
    return OK


def settle(store: RecordStore, arguments: argparse.Namespace) -> int:
    record = _one(store.counting(), arguments.record, "digest")
    store.decide({record.digest: "left out" if arguments.leave_out else "counts"})
    if not arguments.leave_out:
        others = [r for r in store.counting() if r.id == record.id and r.digest != record.digest]
        store.decide({other.digest: "left out" for other in others})
    print(f"{record.digest[:12]}: {'left out' if arguments.leave_out else 'counts'}; both files stay")
    return OK


def table(store: RecordStore, arguments: argparse.Namespace) -> int:
    from kilter.records.table import read_columns, table_of

    columns = read_columns(arguments.columns) if arguments.columns else None
    records = list(_jobs(store, arguments))
    put(arguments.to, table_of(records, columns))
    print(
        f"{arguments.to}: {_many(sum(len(r.readings) for r in records), 'reading')} of {_many(len(records), 'job')}"
    )
    return OK


def paper(store: RecordStore, arguments: argparse.Namespace) -> int:
    from kilter.records.page import page

    put(arguments.to, page(_one(store.counting(), arguments.record, "id")))
    print(arguments.to)
    return OK


def receipt(store: RecordStore, arguments: argparse.Namespace) -> int:
    here = store.counting()
    chosen = [_one(here, id, "id") for id in arguments.records] if arguments.records else here
    if not chosen:
        raise CouldNotRunError(f"{store.folder}: no records in it")
    given = receipts.receipt_for(chosen, datetime.now().astimezone())
    _tell_codes(given, chosen)
    if arguments.to:
        from kilter.records.canonical import written

        put(arguments.to, written(given))
        print(arguments.to)
    _draw(given, arguments.qr)
    return OK


def keep(store: RecordStore, arguments: argparse.Namespace) -> int:
    if not (arguments.out / "built.json").is_file():
        raise CouldNotRunError(
            f"{arguments.out / 'built.json'}: not there; name the output folder of a build"
        )
    store.begin()
    print(f"{_many(keep_built(arguments.out, store), 'document')} remembered in {store.folder}")
    return OK


def count(store: RecordStore, arguments: argparse.Namespace) -> int:
    from kilter.records.statistics import told

    lines = told(_jobs(store, arguments))
    print("\n".join(lines) if lines else "no readings as found with limits yet")
    return OK


def _jobs(store: RecordStore, arguments: argparse.Namespace) -> Iterable[Record]:
    asked = Asked(arguments.document, arguments.asset)
    return (record for record in jobs(store.all(), store.decided()) if asked.takes(record))


def _one(records: Iterable[Record], begins: str, what: str) -> Record:
    """The record whose id or digest begins so. Raises CouldNotRunError for none or several."""
    found = [r for r in records if str(getattr(r, what)).startswith(begins.lower())]
    if len(found) == 1:
        return found[0]
    if not found:
        raise CouldNotRunError(f"no record's {what} begins with `{begins}`; `kilter records list` shows them")
    more = ", ".join(str(getattr(r, what))[:12] for r in found[:4])
    raise CouldNotRunError(
        f"{len(found)} records have a {what} that begins with `{begins}`: {more}; give more of it"
    )


def _many(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"
