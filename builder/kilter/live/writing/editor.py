"""The editor: its page, the check of an unsaved text, completion, saving."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Annotated, Any
from urllib.parse import quote

from pydantic import Field

from kilter.assist.complete import completions
from kilter.check.workspace import Workspace
from kilter.live.bench import Bench
from kilter.live.web import Request, Response, answer_json
from kilter.live.writing import said
from kilter.live.writing.aside import Aside, aside
from kilter.live.writing.candidates import candidates
from kilter.live.writing.difference import difference
from kilter.live.writing.editor_page import editor_page, list_page, refusal_page
from kilter.live.writing.posted import Posted, refused, takes
from kilter.live.writing.store import NOTHING, ChangedError, StoreError, load, save
from kilter.model.front import ProfileFront

MOST_CANDIDATES = 60
NOT_OURS = "There is no such document here. A document ends in .md and stands below the library's folder."


class Text(Posted):
    """A text that is not saved."""

    path: str
    """Below the library's folder."""
    text: str


class At(Text):
    """With the place of the cursor, from 1, in characters."""

    line: Annotated[int, Field(ge=1)]
    column: Annotated[int, Field(ge=1)]


class Saved(Text):
    """To be written."""

    base: str
    """Hash of the version that was loaded; empty for a new file."""


def page(bench: Bench, request: Request) -> Response:
    """`/write/<path>`."""
    name = request.path.removeprefix("/write").strip("/")
    if not name:
        return list_page(bench)
    file = bench.file_of(name)
    if file is None:
        return refusal_page(bench, NOT_OURS, 404)
    try:
        held = load(file)
    except StoreError as trouble:
        return refusal_page(bench, f"{name}: {trouble}", 422)
    if held is None:
        return refusal_page(bench, f"There is no file {name} here any more, or not yet.", 404, "/new")
    return editor_page(bench, name, file, held)


@takes(Text)
def check(bench: Bench, body: Text) -> Response:
    """What there is to say about a text as it stands in the page."""
    file = bench.file_of(body.path)
    if file is None:
        return refused(NOT_OURS, 404)
    look = aside(bench, file, body.text)
    found = [said.finding(d) for d in look.findings()]
    return answer_json({"findings": found, "candidates": _candidates(look), "disk": _on_disk(file)})


def _on_disk(file: Path) -> str:
    """Hash of what stands in the file now, so that the page can tell of a change before it saves."""
    try:
        held = load(file)
    except StoreError:
        return "unreadable"
    return held.hash if held else NOTHING


def _candidates(look: Aside) -> list[dict[str, Any]]:
    """Words that may want a mark, also in a text whose front matter still has blanks."""
    rows = look.source.lines
    end = next((n for n, row in enumerate(rows) if n and row.rstrip() == "---"), 0)
    found = candidates(look.source, end + 1, _profile(look, "\n".join(rows[:end])))
    return [said.candidate(c) for c in found[:MOST_CANDIDATES]]


def _profile(look: Aside, front: str) -> ProfileFront | None:
    """The machine that a text is about, taken from its rows where it can't be read yet."""
    library = look.workspace.library
    document = library.documents.get(look.path)
    named = re.search(r"(?m)^equipment:[ \t]*[\"']?([a-z0-9-]+)", front)
    if document is not None:
        profile = library.profile_of(document)
    else:
        profile = library.profile(named[1]) if named else None
    return profile.profile if profile else None


@takes(At)
def complete(bench: Bench, body: At) -> Response:
    """What can be written at the cursor."""
    file = bench.file_of(body.path)
    if file is None:
        return refused(NOT_OURS, 404)
    look = aside(bench, file, body.text)
    return answer_json({"offers": [said.offer(o) for o in _offers(look.workspace, look.path, body)]})


def _offers(workspace: Workspace, path: str, at: At) -> list[Any]:
    rows = workspace.library.sources[path].lines
    if at.line > len(rows):
        return []
    return completions(workspace, path, at.line, min(at.column, len(rows[at.line - 1]) + 1))


@takes(Saved)
def store(bench: Bench, body: Saved) -> Response:
    """Save; 409 with both versions when another one stands on the disk."""
    file = bench.file_of(body.path)
    if file is None:
        return refused(NOT_OURS, 404)
    try:
        held = save(file, body.text, body.base)
    except ChangedError as trouble:
        theirs = trouble.theirs
        return answer_json(
            {
                "gone": theirs is None,
                "theirs": theirs.text if theirs else "",
                "hash": theirs.hash if theirs else NOTHING,
                "difference": difference(theirs.text, body.text) if theirs else [],
            },
            409,
        )
    bench.refresh([file])
    return answer_json({"hash": held.hash, "text": held.text, "open": f"/write/{quote(body.path)}"})
