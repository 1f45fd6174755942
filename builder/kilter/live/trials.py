"""Tries every card in the background, so that a document whose card fails is shown as held back."""

from __future__ import annotations

import threading
import time
from collections import deque
from collections.abc import Iterable

from kilter.live.press import Press
from kilter.publish.view import DocumentView

QUIET = 1.0
"""Seconds without a change before the cards of other documents are tried."""
FEW = 5
"""So many changed documents go before all others."""


class Trials:
    """One thread: cards of changed documents first, the others when all is quiet."""

    def __init__(self, press: Press) -> None:
        self.press, self.bench = press, press.bench
        self._first: deque[str] = deque()
        self._rest: deque[str] = deque()
        self._changed = 0.0
        self._wake, self._stop, self._idle = threading.Event(), threading.Event(), threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True)

    def start(self) -> None:
        self.hurry(())
        self._changed = 0.0
        self._thread.start()

    def stop(self) -> None:
        self._stop.set()
        self._wake.set()
        if self._thread.is_alive():
            self._thread.join(timeout=5)

    def hurry(self, paths: Iterable[str]) -> None:
        """Something has changed; these documents, if they are few, are the ones that somebody works on."""
        chosen = list(paths)
        self._idle.clear()
        self._first.extend(chosen if len(chosen) <= FEW else ())
        with self.bench.lock:
            self._rest = deque(self.bench.workspace.paths())
        self._changed = time.monotonic()
        self._wake.set()

    def done(self, seconds: float) -> bool:
        """Wait until every card has been tried; False if that takes longer."""
        return self._idle.wait(seconds)

    def left(self) -> int:
        """How many files have not been gone through yet."""
        return len(self._rest) + len(self._first)

    def _run(self) -> None:
        while not self._stop.is_set():
            self._wake.clear()
            started = time.perf_counter()
            rest = self._one()
            # as long at rest as at work: whoever loads a page should not have to wait for cards
            took = min(1.0, time.perf_counter() - started)
            self._wake.wait(rest if rest is None else max(rest, took))

    def _one(self) -> float | None:
        """Try one card. How many seconds to wait before the next; None if there is nothing left to do."""
        if self._first:
            self._try(self._untried(self._first.popleft()))
            return 0.0
        quiet = time.monotonic() - self._changed
        if self._rest and quiet < QUIET:
            return QUIET - quiet
        while self._rest and not self._wake.is_set():
            view = self._untried(self._rest.popleft())
            if view is not None:
                self._try(view)
                return 0.0
        if not self._rest and not self._first and not self._wake.is_set():
            self._idle.set()
            return None
        return 0.0

    def _untried(self, path: str) -> DocumentView | None:
        with self.bench.lock:
            known = path in self.bench.workspace.library.readings
            view = self.bench.site.shelf.view(path) if known else None
            return view if view is not None and not self.press.tried(view) else None

    def _try(self, view: DocumentView | None) -> None:
        if view is not None and self.press.attempt(view):
            self.bench.changed([view.document.path])
