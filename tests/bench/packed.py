"""A static server on a loopback port that packs text, as every web server does."""

from __future__ import annotations

import contextlib
import functools
import gzip
import http.server
from collections.abc import Iterator
from pathlib import Path

from tests.publish.site_browser import listening

TEXT = {".html": "text/html", ".css": "text/css", ".js": "text/javascript", ".json": "application/json", ".svg": "image/svg+xml"}  # fmt: skip


@functools.lru_cache(maxsize=256)
def _squeezed(file: Path) -> bytes:
    return gzip.compress(file.read_bytes(), 6)


SENT: list[int] = []
"""Bytes of the bodies sent so far, one entry an answer."""


class _Packing(http.server.SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    wbufsize = 65536

    def log_message(self, *args: object) -> None:
        pass

    def do_GET(self) -> None:
        file = Path(self.translate_path(self.path))
        kind = TEXT.get(file.suffix)
        if kind is None or not file.is_file():
            SENT.append(file.stat().st_size if file.is_file() else 0)
            return super().do_GET()
        body = _squeezed(file)
        self.send_response(200)
        for name, value in (("Content-Type", f"{kind}; charset=utf-8"), ("Content-Encoding", "gzip"), ("Content-Length", str(len(body)))):  # fmt: skip
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(body)
        SENT.append(len(body))
        return None


@contextlib.contextmanager
def packed(folder: Path) -> Iterator[str]:
    """The folder's address while the context lasts."""
    with listening(_Packing, folder) as base:
        yield base
