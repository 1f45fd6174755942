"""Build, show on this machine only, and build again after each change."""

from __future__ import annotations

import functools
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from kilter.outcome import OK, CouldNotRunError
from kilter.publish.build import build


class _Quiet(SimpleHTTPRequestHandler):
    """Files of the site; nothing is logged and nothing is kept by the browser."""

    wbufsize = 65_536

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing: the terminal belongs to the findings."""

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store")
        super().end_headers()


@contextmanager
def served(site: Path, port: int) -> Iterator[str]:
    """Serve a folder on the loopback address; port 0 takes a free one."""
    try:
        server = ThreadingHTTPServer(("127.0.0.1", port), functools.partial(_Quiet, directory=str(site)))
    except OSError as trouble:
        raise CouldNotRunError(f"port {port}: {trouble.strerror}; choose another with --port") from None
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()


def serve(folder: Path, port: int) -> int:
    """Runs until it is stopped; a build that fails leaves the last good site on show."""
    from watchfiles import watch

    build(folder, None, quiet=False, colour=False)
    with served(folder / "out" / "site", port) as url:
        print(f"the site stands at {url} (stop with Ctrl-C)", flush=True)
        try:
            for _ in watch(folder / "procedures", folder / "mkdocs.yml", debounce=200, raise_interrupt=True):
                try:
                    build(folder, None, quiet=False, colour=False)
                except CouldNotRunError as trouble:
                    print(f"kilter: {trouble}", flush=True)
        except KeyboardInterrupt:
            print("stopped")
    return OK
