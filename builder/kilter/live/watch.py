"""Sees what changes on the disk and has it looked at again."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from kilter.live.bench import CONFIG, Bench
from kilter.live.files import being_written, differences, state_of

DEBOUNCE, STEP = 50, 10
"""Milliseconds: how long a burst of changes is gathered, and how long a silence ends it."""
ROUND = 3000
"""Milliseconds after which the folder is looked through anyway: some network drives tell of no change."""
FILLING = 0.15
"""Seconds that an emptied file is given to be filled."""

Told = Callable[[set[Path], frozenset[str], float], None]
"""Called after a change with the files, the paths it may concern, and how many seconds it took."""


class Watcher:
    """Two threads: one for the documents' folder, one for `mkdocs.yml` beside it."""

    def __init__(self, bench: Bench, tell: Told, fault: Callable[[str], None]) -> None:
        self.bench, self.tell, self.fault = bench, tell, fault
        self.config = bench.folder / CONFIG
        self._state = state_of(bench.root, self.config)
        self._lock = threading.Lock()
        self._stop = threading.Event()
        self._threads: list[threading.Thread] = []

    def start(self) -> None:
        places = {self.bench.root: True}
        places.setdefault(self.bench.folder, False)
        for folder, deep in places.items():
            thread = threading.Thread(target=self._watch, args=(folder, deep), daemon=True)
            thread.start()
            self._threads.append(thread)

    def stop(self) -> None:
        self._stop.set()
        for thread in self._threads:
            thread.join(timeout=5)

    def _watch(self, folder: Path, deep: bool) -> None:
        """Until it is stopped; a folder that is gone for a while is waited for."""
        while not self._stop.is_set():
            try:
                self._changes(folder, deep)
                self.look()
            except OSError:
                self._guarded_look()
                self._stop.wait(0.3)
            except Exception as fault:  # one change that can't be taken must not be the last that is seen
                self.fault(f"a change could not be looked at: {type(fault).__name__}: {fault}; trying again")
                self._stop.wait(1.0)

    def _guarded_look(self) -> None:
        """The folder itself can't be watched: look once, whatever comes of it."""
        with suppress(Exception):
            self.look()

    def _changes(self, folder: Path, deep: bool) -> None:
        from watchfiles import watch

        here = folder.stat().st_ino
        for found in watch(
            folder,
            recursive=deep,
            debounce=DEBOUNCE,
            step=STEP,
            rust_timeout=ROUND,
            yield_on_timeout=True,
            stop_event=self._stop,
            raise_interrupt=False,
        ):
            self.look({Path(name) for _, name in found})
            if folder.stat().st_ino != here:
                return  # another folder under the same name: the old watch sees nothing of it

    def look(self, named: set[Path] | None = None) -> None:
        """Compare the disk with what was seen last; `named` are files that something says have changed."""
        with self._lock:
            started = time.perf_counter()
            new = state_of(self.bench.root, self.config)
            changed = self._changed(new, named or set())
            if changed and being_written(changed, new):
                time.sleep(FILLING)
                new = state_of(self.bench.root, self.config)
                changed = self._changed(new, named or set())
            touched = self.bench.refresh(changed) if changed else frozenset()
            self._state = new
        if changed:
            self.tell(changed, touched, time.perf_counter() - started)

    def _changed(self, new: dict[Path, tuple[int, int, int]], named: set[Path]) -> set[Path]:
        """Files that differ; a named one counts though it has the same size and time."""
        return differences(self._state, new) | {f for f in named if f in new}
