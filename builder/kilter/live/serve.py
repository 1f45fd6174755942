"""`kilter serve` put together: bench, watcher, cards, server, and the plain lines on the terminal."""

from __future__ import annotations

import gc
import signal
import socket
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path

from kilter.diagnostic import Severity
from kilter.live.bench import CONFIG, Bench
from kilter.live.events import Hub
from kilter.live.faults import Guarded
from kilter.live.frame import FrameError
from kilter.live.gate import Gate
from kilter.live.handlers import Handlers
from kilter.live.listing import count_words, many
from kilter.live.press import Press
from kilter.live.routes import all_routes
from kilter.live.server import LiveServer
from kilter.live.trials import Trials
from kilter.live.watch import Watcher
from kilter.outcome import OK, CouldNotRunError
from kilter.read.library import FOLDER

Say = Callable[[str], None]
LOOPBACK = ("127.0.0.1", "localhost", "::1")
MANY = 8
"""Changed files after which only their number is told."""


def say(line: str) -> None:
    print(line, flush=True)


def timed(say: Say) -> Say:
    """Lines with the time of day."""
    return lambda line: say(f"{time.strftime('%H:%M:%S')} {line}")


class Live:
    """One running server. Made and started while no other thread runs; `stop` ends all of its own."""

    def __init__(self, folder: Path, host: str, port: int, say: Say = say) -> None:
        self.say, self.log = say, timed(say)
        root = documents_folder(folder)
        # the port first: whether it is free is known at once, the library may take seconds
        self.guard = Guarded(self.log)
        self.server = bound(host, port, self.guard)
        try:
            self.bench = Bench(folder, root)
        except FrameError as trouble:
            self.server.server_close()
            raise CouldNotRunError(str(trouble)) from None
        self.bench.workspace.warm()
        self.press = Press(self.bench)
        self.trials = Trials(self.press)
        self.hub = Hub(self.bench, self.guard.version)
        self.guard.use(self.bench, all_routes(Handlers(self.bench, self.press, self.trials).routes()))
        port = self.server.server_address[1]
        self.server.gate = Gate(names_of(host), port, self.bench.token, host in ("0.0.0.0", "::"))
        self.server.hub = self.hub
        self.watcher = Watcher(self.bench, self._changed, self.log)
        self.address = f"http://{'127.0.0.1' if host in ('', '0.0.0.0', '::') else bracketed(host)}:{port}/"

    def start(self) -> None:
        gc.collect()
        gc.freeze()  # what the library holds stays: looking for garbage in it would make pages wait
        self.bench.listen(self.hub.announce)
        self.bench.listen(self.trials.hurry)
        self.thread = threading.Thread(target=self.server.serve_forever, args=(0.1,), daemon=True)
        self.thread.start()
        self.watcher.start()
        self.trials.start()

    def stop(self) -> None:
        self.hub.end()
        self.watcher.stop()
        self.trials.stop()
        self.server.shutdown()
        self.server.server_close()
        self.thread.join(timeout=5)

    def counts(self) -> str:
        """`12 documents, 3 errors in 1 of them`."""
        with self.bench.lock:
            workspace = self.bench.workspace
            found = [workspace.findings(path) for path in workspace.paths()]
        errors = [sum(d.severity is Severity.ERROR for d in each) for each in found]
        bad = sum(n > 0 for n in errors)
        said = f"{many(len(found), 'document')}, {many(sum(errors), 'error')}"
        return f"{said} in {bad} of them" if bad else said

    def _changed(self, files: set[Path], touched: frozenset[str], seconds: float) -> None:
        took = f" - {seconds * 1000:.0f} ms"
        if len(files) > MANY:
            self.log(f"{len(files)} files changed, {many(len(touched), 'document')} checked again{took}")
            return
        for file in sorted(files):
            self.log(f"{self._line(file, touched)}{took}")

    def _line(self, file: Path, touched: frozenset[str]) -> str:
        with self.bench.lock:
            workspace = self.bench.workspace
            path = workspace.shown(file)
            name = self.bench.name_of(path) or file.name
            others = len(touched - {path})
            more = f"; {many(others, 'other document')} checked again" if others else ""
            if file == self.bench.folder / CONFIG:
                return self.bench.trouble or f"{name}: read{more}"
            if path in workspace.library.readings:
                return f"{name}: {count_words(workspace.findings(path))}{more}"
        return f"{name}: {'changed' if file.exists() else 'gone'}{more}"


def documents_folder(folder: Path) -> Path:
    """The folder of the documents, from `mkdocs.yml`. Raises CouldNotRunError."""
    from kilter.live.frame import load_frame

    config = folder / CONFIG
    if not config.is_file():
        raise CouldNotRunError(
            f"{config}: not there; run this in the folder that holds mkdocs.yml and {FOLDER}/"
        )
    try:
        return load_frame(config.resolve()).docs
    except FrameError as trouble:
        raise CouldNotRunError(str(trouble)) from None


def bound(host: str, port: int, guard: Guarded) -> LiveServer:
    """A server that has its port but answers nothing yet. Raises CouldNotRunError."""
    try:
        return LiveServer((host, port), guard.answer)
    except (OSError, OverflowError) as trouble:
        why = getattr(trouble, "strerror", None) or str(trouble)
        raise CouldNotRunError(f"{host} port {port}: {why}; choose another with --port or --host") from None


def bracketed(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def names_of(host: str) -> frozenset[str]:
    """By which names a browser may call the server."""
    names = {bracketed(host).lower()}
    if host in (*LOOPBACK, "0.0.0.0", "::"):
        names |= {"127.0.0.1", "localhost", "[::1]"}
    if host in ("0.0.0.0", "::"):
        names.add(socket.gethostname().lower())
    return frozenset(names)


def serve(folder: Path, host: str, port: int) -> int:
    """Runs until it is stopped with Ctrl-C or told to end."""
    live = Live(folder, host, port)
    if host not in LOOPBACK:
        say(
            f"warning: whoever can reach {host} on the network can read and change this library; there is no log-in"
        )
    live.start()
    try:
        say(f"{live.address} shows {live.counts()} (stop with Ctrl-C)")
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(OK))
        while True:
            time.sleep(3600)
    except (KeyboardInterrupt, SystemExit):
        say("stopped")
    finally:
        live.stop()
    return OK
