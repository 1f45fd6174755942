"""What all live pages share: the library in memory, the lock around it, and who is told of a change."""

from __future__ import annotations

import secrets
import threading
from collections.abc import Callable, Iterable
from pathlib import Path

from kilter.check.workspace import Workspace
from kilter.live.frame import FrameError, load_frame
from kilter.live.site import LiveSite

CONFIG = "mkdocs.yml"
Listener = Callable[[frozenset[str]], None]


class Bench:
    """One library under work; raises FrameError if `mkdocs.yml` can't be used. Take `lock` around every use of `workspace`, also around a mere look."""

    def __init__(self, folder: Path, root: Path, base: Path | None = None) -> None:
        self.folder = folder.resolve()
        """Where `mkdocs.yml` stands."""
        self.root = root.resolve()
        """The folder of the documents."""
        self.lock = threading.RLock()
        self.workspace = Workspace(self.root, base)
        self.token = secrets.token_urlsafe(24)
        """A POST needs it in the header `x-kilter-token`; our pages carry it in `<meta name="kilter-token">`."""
        self.generation = 0
        """Goes up whenever anything may look different; what is kept is looked through when it has."""
        self.frame = load_frame(self.folder / CONFIG)
        self.trouble = ""
        """Why `mkdocs.yml` can't be used; the last good state of it counts meanwhile."""
        self.site = LiveSite(self)
        self.site.shelf.addresses.remember()
        self._listeners: list[Listener] = []

    def refresh(self, files: Iterable[Path]) -> frozenset[str]:
        """Look again at files that were written, came or went, and tell the open pages."""
        with self.lock:
            touched = self.workspace.refresh(self._without_broken_frame(files))
        self.changed(touched)
        return touched

    def _without_broken_frame(self, files: Iterable[Path]) -> list[Path]:
        """A `mkdocs.yml` that can't be used is as if it had not been saved."""
        wanted, config = [f.resolve() for f in files], self.folder / CONFIG
        if config in wanted:
            try:
                self.frame, self.trouble = load_frame(config), ""
            except FrameError as trouble:
                self.trouble = str(trouble)
                wanted = [f for f in wanted if f != config]
        return wanted

    def changed(self, paths: Iterable[str]) -> None:
        """Tell the open pages that files (as shown in findings) may look different.

        For whoever calls `workspace.write` or `workspace.let_go`; `refresh` does it by itself.
        """
        with self.lock:
            self.generation += 1
            self.site.shelf.addresses.remember()
        for listener in list(self._listeners):
            listener(frozenset(paths))

    def listen(self, listener: Listener) -> None:
        """Be called after every change, with the paths that it may concern."""
        self._listeners.append(listener)

    def name_of(self, path: str) -> str:
        """A file's path below the library's folder, from its path as shown: what stands in addresses."""
        file = self.workspace.library.file_of(path).resolve()
        return file.relative_to(self.root).as_posix() if file.is_relative_to(self.root) else ""

    def file_of(self, name: str) -> Path | None:
        """The file that an address names, whether it is there or not; None for what is no document of ours."""
        if not name or "\\" in name or "\0" in name or name.startswith("/"):
            return None
        file = (self.root / name).resolve()
        return file if file.is_relative_to(self.root) and self.workspace.belongs(file) else None
