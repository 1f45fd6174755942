"""The requests and notices of the protocol, each a few lines over the desk."""

from __future__ import annotations

from lsprotocol import types

from kilter import assist
from kilter.lsp import convert
from kilter.lsp.desk import Desk
from kilter.lsp.room import Opened, Room
from kilter.lsp.server import Server, file_of, refused

WATCHED = ("**/*.md", "**/mkdocs.yml", "**/*.{png,jpg,jpeg,webp}")
TRIGGERS = ["{", "`", ":", "#", "(", ",", " "]


def make_server() -> Server:
    """A server with all that it can do."""
    server = Server()
    for add in (_files, _folders, _writing, _finding_the_way, _mending, _renaming):
        add(server)
    return server


def _files(server: Server) -> None:
    publisher = server.publisher

    @server.feature(types.INITIALIZE)
    def initialize(params: types.InitializeParams) -> None:
        server.begin(params)

    @server.feature(types.TEXT_DOCUMENT_DID_OPEN)
    def opened(params: types.DidOpenTextDocumentParams) -> None:
        document = params.text_document
        if (file := file_of(document.uri)) is not None:
            publisher.text(file, Opened(document.uri, document.version, document.text))

    @server.feature(types.TEXT_DOCUMENT_DID_CHANGE)
    def changed(params: types.DidChangeTextDocumentParams) -> None:
        document = params.text_document
        if params.content_changes and (file := file_of(document.uri)) is not None:
            publisher.text(file, Opened(document.uri, document.version, params.content_changes[-1].text))

    @server.feature(types.TEXT_DOCUMENT_DID_CLOSE)
    def closed(params: types.DidCloseTextDocumentParams) -> None:
        if (file := file_of(params.text_document.uri)) is not None:
            publisher.tell(lambda desk: desk.let_go(file))
            publisher.note()

    @server.feature(types.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    def on_disk(params: types.DidChangeWatchedFilesParams) -> None:
        files = [file for change in params.changes if (file := file_of(change.uri)) is not None]
        publisher.tell(lambda desk: desk.changed(files))
        publisher.note()

    @server.feature(types.TEXT_DOCUMENT_DID_SAVE)
    def saved(params: types.DidSaveTextDocumentParams) -> None:
        """An editor that watches no files tells at least of this one."""
        if (file := file_of(params.text_document.uri)) is not None:
            publisher.tell(lambda desk: desk.changed([file]))
            publisher.note()


def _folders(server: Server) -> None:
    publisher = server.publisher

    @server.feature(types.INITIALIZED)
    async def initialized(params: types.InitializedParams) -> None:
        folders = [file_of(folder.uri) for folder in server.workspace.folders.values()]
        if not folders and server.workspace.root_uri:
            folders = [file_of(server.workspace.root_uri)]
        publisher.tell(lambda desk: desk.keep(folders))
        publisher.note()
        if server.watches:
            watchers = [types.FileSystemWatcher(glob) for glob in WATCHED]
            options = types.DidChangeWatchedFilesRegistrationOptions(watchers)
            method = types.WORKSPACE_DID_CHANGE_WATCHED_FILES
            registration = types.Registration("kilter-files", method, options)
            await server.client_register_capability_async(types.RegistrationParams([registration]))

    @server.feature(types.WORKSPACE_DID_CHANGE_WORKSPACE_FOLDERS)
    def moved(params: types.DidChangeWorkspaceFoldersParams) -> None:
        removed, added = (
            [file_of(f.uri) for f in those] for those in (params.event.removed, params.event.added)
        )
        publisher.tell(lambda desk: desk.drop(removed))
        publisher.tell(lambda desk: desk.keep(added))
        publisher.note()

    @server.feature(types.SHUTDOWN)
    def shutdown(params: None) -> None:
        publisher.stop()


def _writing(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_COMPLETION, types.CompletionOptions(trigger_characters=TRIGGERS))
    async def completion(params: types.CompletionParams) -> list[types.CompletionItem]:
        def work(desk: Desk, room: Room, path: str) -> list[types.CompletionItem]:
            line, column = server.place(desk, room, path, params.position)
            offers = assist.completions(room.workspace, path, line, column)
            ranged, rows = server.ranged(desk, room), desk.rows(room, path)
            typed = rows[line - 1][offers[0].replace.column - 1 : column - 1] if offers else ""
            return [convert.completion(offer, n, typed, ranged) for n, offer in enumerate(offers)]

        return await server.ask(params.text_document.uri, work, [])

    @server.feature(types.TEXT_DOCUMENT_HOVER)
    async def hover(params: types.HoverParams) -> types.Hover | None:
        def work(desk: Desk, room: Room, path: str) -> types.Hover | None:
            found = assist.hover(room.workspace, path, *server.place(desk, room, path, params.position))
            if found is None:
                return None
            markdown = types.MarkupContent(types.MarkupKind.Markdown, found.markdown)
            return types.Hover(markdown, server.ranged(desk, room)(found.span))

        return await server.ask(params.text_document.uri, work, None)


def _finding_the_way(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_DEFINITION)
    async def definition(params: types.DefinitionParams) -> list[types.Location]:
        def work(desk: Desk, room: Room, path: str) -> list[types.Location]:
            place = server.place(desk, room, path, params.position)
            return list(map(server.located(desk, room), assist.definition(room.workspace, path, *place)))

        return await server.ask(params.text_document.uri, work, [])

    @server.feature(types.TEXT_DOCUMENT_REFERENCES)
    async def references(params: types.ReferenceParams) -> list[types.Location]:
        def work(desk: Desk, room: Room, path: str) -> list[types.Location]:
            place = server.place(desk, room, path, params.position)
            with_definition = params.context.include_declaration
            found = assist.references(room.workspace, path, *place, with_definition=with_definition)
            return list(map(server.located(desk, room), found))

        return await server.ask(params.text_document.uri, work, [])

    @server.feature(types.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    async def symbols(params: types.DocumentSymbolParams) -> list[types.DocumentSymbol]:
        def work(desk: Desk, room: Room, path: str) -> list[types.DocumentSymbol]:
            document = room.workspace.library.documents.get(path)
            parts = assist.outline(document) if document is not None else []
            return convert.symbols(parts, server.ranged(desk, room))

        return await server.ask(params.text_document.uri, work, [])


def _mending(server: Server) -> None:
    kinds = [types.CodeActionKind.QuickFix, types.CodeActionKind.RefactorRewrite]
    options = types.CodeActionOptions(code_action_kinds=kinds)

    @server.feature(types.TEXT_DOCUMENT_CODE_ACTION, options)
    async def actions(params: types.CodeActionParams) -> list[types.CodeAction]:
        def work(desk: Desk, room: Room, path: str) -> list[types.CodeAction]:
            only = params.context.only
            wanted = [kind for kind in kinds if not only or any(kind.startswith(o) for o in only)]
            made = server.actions(desk, room, path, params.range) if kinds[0] in wanted else []
            return made + (server.rewrites(desk, room, path, params.range) if kinds[1] in wanted else [])

        return await server.ask(params.text_document.uri, work, [])


def _renaming(server: Server) -> None:
    @server.feature(types.TEXT_DOCUMENT_PREPARE_RENAME)
    async def prepare(params: types.PrepareRenameParams) -> types.PrepareRenamePlaceholder | None:
        def work(desk: Desk, room: Room, path: str) -> types.PrepareRenamePlaceholder:
            place = server.place(desk, room, path, params.position)
            try:
                span, name = assist.renameable(room.workspace, path, *place)
            except assist.RefusedError as reason:
                raise refused(str(reason)) from None
            return types.PrepareRenamePlaceholder(server.ranged(desk, room)(span), name)

        return await server.ask(params.text_document.uri, work, None)

    @server.feature(types.TEXT_DOCUMENT_RENAME, types.RenameOptions(prepare_provider=True))
    async def rename(params: types.RenameParams) -> types.WorkspaceEdit | None:
        def work(desk: Desk, room: Room, path: str) -> types.WorkspaceEdit:
            place = server.place(desk, room, path, params.position)
            try:
                edits = assist.rename(room.workspace, path, *place, params.new_name)
            except assist.RefusedError as reason:
                raise refused(str(reason)) from None
            return server.edit(desk, room, [e for each in edits.values() for e in each])

        return await server.ask(params.text_document.uri, work, None)
