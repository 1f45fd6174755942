"""The language server: what an editor asks, put to the desk."""

from __future__ import annotations

import logging
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pygls.lsp.server import LanguageServer
from pygls.uris import from_fs_path, to_fs_path

from kilter import __version__, assist
from kilter.diagnostic import Edit
from kilter.lsp import convert
from kilter.lsp.desk import Desk
from kilter.lsp.positions import Encoding, encoding_of, from_position, to_range
from kilter.lsp.publisher import Publisher
from kilter.lsp.room import News, Room
from kilter.picture.renumber import numberings
from kilter.source import Span

Result = TypeVar("Result")
_log = logging.getLogger("kilter.lsp")

REFUSED = -32803
"""The protocol's code for a request that was understood and can't be done."""
UNKNOWN = -32601
"""Its code for a request that this server does not know."""


class Server(LanguageServer):
    """One editor's server."""

    def __init__(self) -> None:
        # whole texts: a change that is counted otherwise than the editor does can't spoil the text for good
        super().__init__("kilter", __version__, types.TextDocumentSyncKind.Full)
        self.publisher = Publisher(self.message, self.text_document_publish_diagnostics)
        self.encoding: Encoding = "utf-16"
        self.related = self.versioned = self.watches = False

    def report_server_error(self, error: Exception, source: object) -> None:
        """Into the log; a message in the writer's way would mend nothing."""
        answered = isinstance(error, JsonRpcException) and error.code in (REFUSED, UNKNOWN)
        if not answered:
            _log.error("%s", error)

    def begin(self, params: types.InitializeParams) -> None:
        """What the editor can show."""
        capabilities = params.capabilities
        document, folder = capabilities.text_document, capabilities.workspace
        told = document.publish_diagnostics if document else None
        self.related = bool(told and told.related_information)
        edit = folder.workspace_edit if folder else None
        self.versioned = bool(edit and edit.document_changes)
        watched = folder.did_change_watched_files if folder else None
        self.watches = bool(watched and watched.dynamic_registration)
        self.encoding = encoding_of(self.workspace.position_encoding)
        options = params.initialization_options
        pause = options.get("pause") if isinstance(options, dict) else None
        if isinstance(pause, int) and 0 <= pause <= 5000:
            self.publisher.quiet = pause / 1000

    # places

    def ranged(self, desk: Desk, room: Room) -> convert.Ranged:
        rows: dict[str, list[str]] = {}

        def ranged(span: Span) -> types.Range:
            if span.path not in rows:
                rows[span.path] = desk.rows(room, span.path)
            return to_range(rows[span.path], span, self.encoding)

        return ranged

    def uri(self, desk: Desk, room: Room, path: str) -> str:
        """The address of a file, as the editor wrote it where it did."""
        file = room.workspace.library.files.get(path) or room.workspace.root.parent / path
        opened = desk.open.get(file.resolve())
        return opened.uri if opened is not None else str(from_fs_path(str(file)))

    def located(self, desk: Desk, room: Room) -> convert.Located:
        ranged = self.ranged(desk, room)
        return lambda span: types.Location(self.uri(desk, room, span.path), ranged(span))

    def place(self, desk: Desk, room: Room, path: str, position: types.Position) -> tuple[int, int]:
        return from_position(desk.rows(room, path), position, self.encoding)

    # answers

    async def ask(self, uri: str, work: Callable[[Desk, Room, str], Result], otherwise: Result) -> Result:
        """Have a question answered about a file; `otherwise` where it is no document of ours."""
        file = file_of(uri)
        if file is None:
            return otherwise

        def job(desk: Desk) -> Result:
            room = desk.room_of(file)
            if room is None:
                return otherwise
            try:
                return work(desk, room, room.workspace.shown(file))
            except JsonRpcException:
                raise
            except Exception:
                _log.exception("a question about %s could not be answered", file.name)
                return otherwise

        return await self.publisher.do(job)

    def edit(self, desk: Desk, room: Room, edits: list[Edit]) -> types.WorkspaceEdit:
        """Edits of several files as one change, held to the version of the text that they were made for."""
        by_path = convert.text_edits(edits, self.ranged(desk, room))
        if not self.versioned:
            return types.WorkspaceEdit(changes={self.uri(desk, room, p): e for p, e in by_path.items()})
        return types.WorkspaceEdit(
            document_changes=[self._held(desk, room, p, e) for p, e in by_path.items()]
        )

    def _held(self, desk: Desk, room: Room, path: str, edits: list[types.TextEdit]) -> types.TextDocumentEdit:
        opened = desk.open.get(room.workspace.library.file_of(path).resolve())
        version = opened.version if opened is not None else None
        document = types.OptionalVersionedTextDocumentIdentifier(self.uri(desk, room, path), version)
        return types.TextDocumentEdit(document, list(edits))

    def actions(self, desk: Desk, room: Room, path: str, where: types.Range) -> list[types.CodeAction]:
        """Ways to mend the findings that a selection touches, worked out afresh."""
        ranged, located = self.ranged(desk, room), self.located(desk, room)
        made: list[types.CodeAction] = []
        for found in desk.now(room, path):
            about = convert.diagnostic(found, ranged, located, self.related)
            if _touch(about.range, where):
                made += [convert.action(f, about, self.edit(desk, room, list(f.edits))) for f in found.fixes]
        return made

    def rewrites(self, desk: Desk, room: Room, path: str, where: types.Range) -> list[types.CodeAction]:
        """The values that a selection touches, each in the other system of units; a figure's items numbered anew."""
        ranged = self.ranged(desk, room)
        rows = where.start.line + 1, where.end.line + 1
        values = assist.conversions(room.workspace, path, *rows)
        offers = [fix for fix in values if _touch(ranged(fix.edits[0].span), where)]
        offers += numberings(room.workspace.library, path, *rows)
        return [convert.rewrite(fix, self.edit(desk, room, list(fix.edits))) for fix in offers]

    def message(self, desk: Desk, news: News) -> types.PublishDiagnosticsParams:
        ranged, located = self.ranged(desk, news.room), self.located(desk, news.room)
        found = [convert.diagnostic(d, ranged, located, self.related) for d in news.findings]
        version = news.opened.version if news.opened is not None else None
        return types.PublishDiagnosticsParams(self.uri(desk, news.room, news.path), found, version)


def _touch(one: types.Range, two: types.Range) -> bool:
    return _at(one.start) <= _at(two.end) and _at(two.start) <= _at(one.end)


def _at(position: types.Position) -> tuple[int, int]:
    return position.line, position.character


def file_of(uri: str) -> Path | None:
    """The file of an address; None for a text that is no file, such as one that was never saved."""
    if not uri.startswith("file:"):
        return None
    path = to_fs_path(uri)
    return Path(path).resolve() if path else None


def refused(reason: str) -> JsonRpcException:
    """An answer that says why not, in words for the writer."""
    return JsonRpcException(reason, REFUSED)
