"""A real browser on the built site; what it complains of is a failure."""

from __future__ import annotations

import contextlib
import functools
import http.server
import os
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

CHROMIUM = Path(os.environ.get("KILTER_CHROMIUM", "/usr/bin/chromium"))
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


def need_browser() -> None:
    """Without a browser these tests are skipped where people work, never where CI works."""
    if not CHROMIUM.exists() and not os.environ.get("CI"):
        pytest.skip(f"no browser at {CHROMIUM}")


@contextlib.contextmanager
def listening(handler: type[http.server.SimpleHTTPRequestHandler], folder: Path) -> Iterator[str]:
    """The address at which a handler serves a folder, on a free loopback port."""
    server = http.server.ThreadingHTTPServer(
        ("127.0.0.1", 0), functools.partial(handler, directory=str(folder))
    )
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/"
    finally:
        server.shutdown()
        server.server_close()
        thread.join()


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str]:
    """The folder on a free loopback port, with the policy as a header too."""
    from kilter.publish.site.page import POLICY

    class Quiet(http.server.SimpleHTTPRequestHandler):
        wbufsize = 65536

        def log_message(self, *args: object) -> None:
            pass

        def end_headers(self) -> None:
            self.send_header("Content-Security-Policy", f"{POLICY}; frame-ancestors 'none'")
            super().end_headers()

    with listening(Quiet, folder) as base:
        yield base


@contextlib.contextmanager
def browser() -> Iterator[object]:
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        try:
            yield opened
        finally:
            opened.close()


def watch(page: object) -> list[str]:
    """Collects what the page complains of: console errors, exceptions, refusals by the policy, failed requests."""
    trouble: list[str] = []
    page.on("console", lambda m: trouble.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda e: trouble.append(str(e)))
    page.on("requestfailed", lambda r: trouble.append(f"failed: {r.url}"))
    page.add_init_script(
        "document.addEventListener('securitypolicyviolation', (e) => console.error('policy: ' + e.violatedDirective))"
    )
    return trouble
