"""One file to one document."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from kilter.diagnostic import error
from kilter.model.reading import Reading
from kilter.model.training import TrainingFront
from kilter.read.blanks import note_blanks
from kilter.read.cures import replaced
from kilter.read.front import read_model
from kilter.read.notes import Notes
from kilter.read.structure import Structure
from kilter.read.yaml_front import read_front
from kilter.source import Source, UnreadableError, decode, read_source


def read_text(source: Source) -> Reading:
    """Read a decoded text. Without a sound front matter there is no document, only findings."""
    notes = Notes(source)
    note_blanks(notes)
    data = read_front(notes)
    if data is None:
        return Reading(source, None, tuple(notes.found))
    front = read_model(notes, data.data, data.places)
    if front is None:
        return Reading(source, None, tuple(notes.found), _claims(data.data))
    try:
        if isinstance(front, TrainingFront):
            from kilter.read.training import Lessons

            module = Lessons(notes, data.end_row).read_module(front, data)
            return Reading(source, None, tuple(notes.found), module=module)
        document = Structure(notes, data.end_row).read(front, data)
    except RecursionError:
        span = source.whole_row(data.end_row)
        notes.error("nested-too-deep", "lists or quotes nested too deeply", span, "make it flatter")
        return Reading(source, None, tuple(notes.found), _claims(data.data))
    except Exception as fault:  # the Markdown libraries have raised for odd endings; the other files go on
        help = "the document is not accepted; please report this with the file"
        message = f"the tool itself failed while reading: {type(fault).__name__}: {fault}"
        notes.error("tool-fault", message, source.whole_row(data.end_row), help)
        return Reading(source, None, tuple(notes.found), _claims(data.data))
    return Reading(source, document, tuple(notes.found))


def read_bytes(shown: str, data: bytes) -> Reading:
    """Read the bytes of a file called `shown`; never raises for what is in it."""
    try:
        return read_text(decode(shown, data))
    except UnreadableError as trouble:
        return _refusal(shown, trouble)


def read_file(file: Path, shown: str) -> Reading:
    """Read one file of the disk; never raises for what is in it."""
    try:
        return read_text(read_source(file, shown))
    except UnreadableError as trouble:
        return _refusal(shown, trouble)


def _refusal(shown: str, trouble: UnreadableError) -> Reading:
    cure = replaced("delete it", trouble.span, "", alone=True) if trouble.rule == "control-character" else ()
    found = error(trouble.rule, trouble.message, trouble.span, trouble.help, fixes=cure)
    return Reading(Source(shown, trouble.text), None, (found,))


def _claims(data: dict[str, Any]) -> tuple[str, str] | None:
    kind = data.get("kind")
    name = data.get("id" if kind == "equipment" else "number")
    return (kind, name) if isinstance(kind, str) and isinstance(name, str) else None
