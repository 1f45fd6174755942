"""What the page asks: the state of a picture, rows to be written, the last writing taken back."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field

from kilter.compute.pictureinfo import picture_info
from kilter.compute.pictureplan import Size
from kilter.live.bench import Bench
from kilter.live.placing.backup import back, kept, lay_aside
from kilter.live.placing.numbering import clockwise_state, numbered
from kilter.live.placing.rows import Row, RowsError, changed, picture_of, rows_of
from kilter.live.web import Response, answer_json
from kilter.live.writing.aside import aside
from kilter.live.writing.posted import Posted, refused, takes
from kilter.live.writing.store import ChangedError, Held, load, save

LOST = "There is no such document here."
UNREAD = "The file can't be read at the moment. Mend it in Write, then come back."
CHANGED = "The file has changed meanwhile. Nothing was written; this page now shows the file as it stands."
NO_COPY = "There is no copy from before to take back."
MOST_ROWS = 80


class Which(Posted):
    """One picture of one file."""

    path: str
    figure: Annotated[int, Field(ge=1)]
    """Its number among the pictures of the file; of a pair each counts."""


class Change(Posted):
    """One row: its line in the file (0 for a new one), and what it says (nothing to take it out)."""

    line: Annotated[int, Field(ge=0)]
    text: Annotated[str, Field(max_length=400)]


class Rows(Which):
    """Rows to be written."""

    base: str
    """Hash of the file that the page shows."""
    rows: Annotated[tuple[Change, ...], Field(min_length=1, max_length=MOST_ROWS)]


class Undo(Which):
    base: str


@takes(Which)
def look(bench: Bench, body: Which) -> Response:
    """The picture as the file has it now."""
    file = bench.file_of(body.path)
    return answer_state(bench, file, body.figure) if file else refused(LOST, 404)


@takes(Rows)
def save_rows(bench: Bench, body: Rows) -> Response:
    """Write rows; 409 with the state of now when the file is another by now."""
    return _written(bench, body, lambda file, held: _saved(file, held, *_tried(bench, file, held.text, body)))


@takes(Undo)
def number(bench: Bench, body: Undo) -> Response:
    """Number the items of the picture clockwise, with what the text says of them; 409 as for rows."""
    return _written(
        bench,
        body,
        lambda file, held: _saved(
            file, held, *numbered(aside(bench, file, held.text), held.text, body.figure)
        ),
    )


@takes(Undo)
def undo(bench: Bench, body: Undo) -> Response:
    """Take the last writing back; what stood there becomes the copy, so that this can be taken back too."""
    return _written(bench, body, lambda file, held: "" if back(file, held.hash) else NO_COPY)


def _written(bench: Bench, body: Rows | Undo, write: Callable[[Path, Held], str]) -> Response:
    """The state after a writing, which gives why it can't be; 409 with the state of now for a file that is another."""
    file = bench.file_of(body.path)
    held = load(file) if file else None
    if file is None or held is None:
        return refused(LOST, 404)
    try:
        trouble = CHANGED if held.hash != body.base else write(file, held)
    except RowsError as refusal:
        trouble = str(refusal)
    except ChangedError:
        trouble = CHANGED
    if trouble == CHANGED:
        return answer_state(bench, file, body.figure, 409, CHANGED)
    if trouble:
        return refused(trouble, 422)
    bench.refresh([file])
    return answer_state(bench, file, body.figure)


def _saved(file: Path, held: Held, text: str, trouble: str) -> str:
    """Nothing, once the text is in the file with a copy of what stood there; else the trouble."""
    if not trouble:
        lay_aside(file, held.hash)
        save(file, text, held.hash)
    return trouble


def _tried(bench: Bench, file: Path, text: str, body: Rows) -> tuple[str, str]:
    """The new text, and why it can't be written: a row that reads as something else than a place."""
    before = aside(bench, file, text)
    document = before.workspace.library.documents.get(before.path)
    if document is None:
        return "", UNREAD
    picture = picture_of(document, body.figure)
    asked = [(row.line, row.text.strip()) for row in body.rows]
    new = changed(before.source, picture, asked)
    after = aside(bench, file, new)
    document = after.workspace.library.documents.get(after.path)
    if document is None:
        return "", UNREAD
    now = picture_of(document, body.figure)
    wanted = sorted(text for _, text in asked if text)
    read = {row.text.strip(): row for row in rows_of(after.source, now)}
    for text in wanted:
        if text not in read or not read[text].placed:
            return "", f"`{text}` is not a place in a picture."
    lines = {read[text].line for text in wanted}
    known = {(d.rule, d.message) for d in before.findings()}
    for found in after.findings():
        if found.span.line in lines and found.rule in SYNTAX and (found.rule, found.message) not in known:
            return "", f"{found.message}; {found.help}" if found.help else found.message
    return new, ""


SYNTAX = ("bad-value", "empty-field", "duplicate-key", "duplicate-item", "unknown-field")
"""Rules after which a row would not be read at all, or not alone."""


def answer_state(bench: Bench, file: Path, number: int, status: int = 200, words: str = "") -> Response:
    """All that the page shows."""
    held = load(file)
    if held is None:
        return refused(LOST, 404)
    look = aside(bench, file, held.text)
    library = look.workspace.library
    document = library.documents.get(look.path)
    if document is None:
        return refused(UNREAD, 422)
    try:
        picture = picture_of(document, number)
    except RowsError as trouble:
        return refused(str(trouble), 422)
    info = picture_info(library.file_of(document.path).parent / picture.path)
    if info.problem:
        return refused(f"The picture {picture.path} {info.problem}; {info.help}.", 422)
    size = Size(info.width, info.height)
    rows = rows_of(look.source, picture)
    first, last = picture.path_span.line, max([r.line for r in rows], default=picture.path_span.line)
    found = [d for d in look.findings() if first <= d.span.line <= last]
    state: dict[str, Any] = {
        "hash": held.hash,
        "width": size.width,
        "height": size.height,
        "svg": info.format == "SVG",
        "rows": [_row(row, picture.path) for row in rows if row.placed],
        "findings": [{"line": d.span.line, "message": d.message, "help": d.help or ""} for d in found],
        "clockwise": clockwise_state(look, picture, size),
        "undo": kept(file),
    }
    return answer_json({**state, "error": words} if words else state, status)


def _row(row: Row, path: str) -> dict[str, Any]:
    return {"line": row.line, "name": row.name, "value": row.value}
