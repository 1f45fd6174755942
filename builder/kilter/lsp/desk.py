"""The libraries that are being worked on, and what is to be told of them. Used by one thread at a time."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path

from kilter.assist import remember
from kilter.check.workspace import Workspace
from kilter.diagnostic import Diagnostic, error
from kilter.lsp.positions import rows_of
from kilter.lsp.room import News, Opened, Room
from kilter.read.library import FOLDER, is_document, library_root
from kilter.source import Span

_log = logging.getLogger("kilter.lsp")
_OURS = re.compile(r"\A\ufeff?---[ \t]*\r?\n(?:(?!---).*\r?\n)*?kind:", re.MULTILINE)
"""A front matter with a kind: outside a library nothing else is taken for a document."""


class Desk:
    """Takes texts and changes of files, gives findings."""

    def __init__(self) -> None:
        self.rooms: dict[Path, Room] = {}
        self.open: dict[Path, Opened] = {}
        self.folders: set[Path] = set()
        """Folders of the editor: a library in one is checked as a whole, whatever is open."""

    # what comes in

    def take(self, file: Path, opened: Opened) -> None:
        """A text as it stands in the editor."""
        self.open[file] = opened
        root = self._root_for(file, opened.text)
        if root is None:
            return
        room = self._enter(root)
        self._change(room, lambda w: w.write(file, opened.text))
        path = room.workspace.shown(file)
        room.due = {path: None} | room.due  # what is looked at comes first

    def let_go(self, file: Path) -> list[News]:
        """The editor has closed a file; what was said of a library that nobody looks at any more is taken back."""
        self.open.pop(file, None)
        room = self.room_of(file)
        if room is None:
            return []
        self._change(room, lambda w: w.let_go(file))
        room.due[room.workspace.shown(file)] = None
        return self._leave(room)

    def keep(self, folders: Iterable[Path | None]) -> list[News]:
        """Folders of the editor: the library in each is checked as a whole."""
        for folder in folders:
            root = library_root(folder) if folder is not None else None
            self.folders |= {folder} if folder is not None else set()
            if root is not None and root.name == FOLDER and root.is_dir():
                self._enter(root)
        return []

    def drop(self, folders: Iterable[Path | None]) -> list[News]:
        """Folders have left the editor."""
        self.folders -= {folder for folder in folders if folder is not None}
        return [news for room in list(self.rooms.values()) for news in self._leave(room)]

    def changed(self, files: Iterable[Path]) -> list[News]:
        """Files that changed, came or went on the disk."""
        files = list(files)
        for file in files:
            root = library_root(file)
            if root.name == FOLDER and root.is_dir() and self._kept(root):
                self._enter(root)
        for room in list(self.rooms.values()):
            near = [f for f in files if f.is_relative_to(room.workspace.root.parent)]
            if near:
                self._change(room, partial(Workspace.refresh, files=near))
        return []

    # what goes out

    def next(self) -> list[News] | None:
        """Look at the next file that is due; None when all is said."""
        for room in self.rooms.values():
            if room.due:
                path = next(iter(room.due))
                del room.due[path]
                return self._look(room, path)
        return None

    def room_of(self, file: Path) -> Room | None:
        """The library that holds a file."""
        inside = [r for r in self.rooms.values() if r.workspace.shown(file) in r.workspace.library.readings]
        return next(iter(inside), None)

    def now(self, room: Room, path: str) -> list[Diagnostic]:
        """The findings in a file as it is now, also where they were not told yet."""
        fresh = self._findings(room, path) if path in room.workspace.library.readings else []
        others = (d for by, found in room.placed.get(path, {}).items() if by != path for d in found)
        all = dict.fromkeys(d for d in (*fresh, *others) if d.span.path == path)
        return sorted(all, key=lambda d: d.sort_key)

    def rows(self, room: Room, path: str) -> list[str]:
        """The rows of a file as the editor has them."""
        opened = self.open.get(room.workspace.library.file_of(path).resolve())
        if opened is not None:
            return rows_of(opened.text)
        source = room.workspace.library.sources.get(path)
        return source.lines if source is not None else []

    # inside

    def _root_for(self, file: Path, text: str) -> Path | None:
        room = self.room_of(file)
        if room is not None:
            return room.workspace.root
        root = library_root(file)
        if root.name == FOLDER:
            return root if is_document(file, root) else None
        return root if file.suffix == ".md" and _OURS.match(text) else None

    def _kept(self, root: Path) -> bool:
        """Whether a library stays without open files."""
        return root.name == FOLDER and any(
            root.is_relative_to(f) or f.is_relative_to(root) for f in self.folders
        )

    def _enter(self, root: Path) -> Room:
        room = self.rooms.get(root)
        if room is None:
            room = self.rooms[root] = Room(Workspace(root, root.parent))
            self._begin(room)
        return room

    def _begin(self, room: Room) -> None:
        """Every file is due; those that are open first."""
        workspace = room.workspace
        paths = workspace.paths()
        mine = [workspace.shown(f) for f in self.open]
        room.due |= dict.fromkeys([p for p in paths if p in mine] + [p for p in paths if p not in mine])
        remember(workspace)

    def _change(self, room: Room, work: Callable[[Workspace], Iterable[str]]) -> None:
        """A change, and what is due after it. After a fault of our own the library is read afresh."""
        try:
            touched = work(room.workspace)
        except Exception:
            _log.exception("a change was not taken: the library is read afresh")
            self._afresh(room)
            return
        room.due |= dict.fromkeys(sorted(touched))
        remember(room.workspace)

    def _afresh(self, room: Room) -> None:
        before = room.workspace.paths()
        root = room.workspace.root
        room.workspace = Workspace(root, root.parent)
        for file, opened in self.open.items():
            if file.is_relative_to(root) and self._root_for(file, opened.text) == root:
                room.workspace.write(file, opened.text)
        room.due |= dict.fromkeys(before)
        self._begin(room)

    def _look(self, room: Room, path: str) -> list[News]:
        there = path in room.workspace.library.readings
        targets = room.put(path, self._findings(room, path) if there else [])
        return [news for target in sorted(targets) if (news := self._news(room, target)) is not None]

    def _findings(self, room: Room, path: str) -> list[Diagnostic]:
        try:
            return list(room.workspace.findings(path))
        except Exception as fault:
            _log.exception("%s could not be checked", path)
            message = f"the tool itself failed: {type(fault).__name__}: {fault}"
            help = "the document is not accepted; please report this with the file"
            return [error("tool-fault", message, Span(path, 1, 1, 1, 1), help)]

    def _news(self, room: Room, path: str) -> News | None:
        """What to show with a file; nothing where nothing was and is to be shown."""
        file = room.workspace.library.files.get(path) or (room.workspace.root.parent / path)
        findings, opened = room.at(path), self.open.get(file.resolve())
        if not findings and path not in room.told and opened is None:
            return None
        (room.told.add if findings else room.told.discard)(path)
        return News(room, path, file, findings, opened)

    def _leave(self, room: Room) -> list[News]:
        workspace = room.workspace
        looked_at = any(workspace.shown(f) in workspace.library.readings for f in self.open)
        if self._kept(workspace.root) or looked_at:
            return []
        self.rooms.pop(workspace.root, None)
        room.placed, told = {}, sorted(room.told)
        return [news for path in told if (news := self._news(room, path)) is not None]
