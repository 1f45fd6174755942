"""One file to one document."""

from __future__ import annotations

from pathlib import Path

from kilter.diagnostic import Diagnostic, error
from kilter.model.document import Document
from kilter.read.front import read_model
from kilter.read.notes import Notes
from kilter.read.structure import Structure
from kilter.read.yaml_front import read_front
from kilter.source import Source, UnreadableError, decode


def read_text(source: Source) -> tuple[Document | None, list[Diagnostic]]:
    """Read a decoded text. Without a sound front matter there is no document, only findings."""
    notes = Notes(source)
    data = read_front(notes)
    if data is None:
        return None, notes.found
    front = read_model(notes, data.data, data.places)
    if front is None:
        return None, notes.found
    try:
        document = Structure(notes, data.end_row).read(front, data)
    except RecursionError:
        span = source.whole_row(data.end_row)
        notes.error("nested-too-deep", "lists or quotes nested too deeply", span, "make it flatter")
        return None, notes.found
    return document, notes.found


def read_bytes(shown: str, data: bytes) -> tuple[Source, Document | None, list[Diagnostic]]:
    """Read the bytes of a file called `shown`."""
    try:
        source = decode(shown, data)
    except UnreadableError as trouble:
        return Source(shown, ""), None, [refusal(trouble)]
    return source, *read_text(source)


def refusal(trouble: UnreadableError) -> Diagnostic:
    """What could not even be decoded, as a finding."""
    return error(trouble.rule, trouble.message, trouble.span, trouble.help)


def read_file(file: Path, shown: str) -> tuple[Source, Document | None, list[Diagnostic]]:
    """Read one file of the disk; never raises for what is in it."""
    from kilter.source import read_source

    try:
        source = read_source(file, shown)
    except UnreadableError as trouble:
        return Source(shown, ""), None, [refusal(trouble)]
    return source, *read_text(source)
