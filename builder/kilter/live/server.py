"""The sockets: one thread a request, refusals in plain words, event streams."""

from __future__ import annotations

import socket
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any, ClassVar

from kilter.live.events import Hub
from kilter.live.gate import MOST_BODY, Gate, RefusedError
from kilter.live.shell import TOKEN
from kilter.live.web import Request, Response
from kilter.publish.site.page import POLICY

EVENTS = "/events"
ALWAYS = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
}
IDLE = 60
"""Seconds after which a connection that says nothing is closed."""

Answer = Callable[[Request], Response]


class LiveServer(ThreadingHTTPServer):
    """Answers requests that pass the gate."""

    daemon_threads = True
    block_on_close = False
    request_queue_size = 64

    def __init__(self, address: tuple[str, int], answer: Answer) -> None:
        self.address_family = socket.AF_INET6 if ":" in address[0] else socket.AF_INET
        super().__init__(address, _Handler)
        self.answer = answer
        self.gate: Gate | None = None
        self.hub: Hub | None = None

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that hangs up is no news."""


class _Handler(BaseHTTPRequestHandler):
    server: LiveServer
    protocol_version = "HTTP/1.1"
    wbufsize = 65_536  # head and body go out together
    timeout = IDLE
    error_content_type = "text/plain; charset=utf-8"
    error_message_format = "%(code)d %(message)s\n"
    server_version, sys_version = "kilter", ""
    refused_methods: ClassVar = ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "CONNECT")

    def do_GET(self) -> None:
        self._take(b"")

    do_HEAD = do_GET

    def do_POST(self) -> None:
        try:
            body = self._body()
        except RefusedError as refused:
            self.close_connection = True  # what is left of the body is not read
            self._send(_refusal(refused))
            return
        self._take(body)

    def __getattr__(self, name: str) -> Any:
        if name.removeprefix("do_") in self.refused_methods:
            return lambda: self._take(b"")
        raise AttributeError(name)

    def _take(self, body: bytes) -> None:
        assert self.server.gate is not None
        headers = {name.lower(): value for name, value in self.headers.items()}
        try:
            if len(self.headers.get_all("Host") or ()) > 1:
                raise RefusedError(400, "two hosts are named")
            request = self.server.gate.passed(self.command, self.path, headers, body)
        except RefusedError as refused:
            self.close_connection = True
            self._send(_refusal(refused))
            return
        if request.path == EVENTS and request.method == "GET":
            self._stream(request)
        else:
            self._send(self.server.answer(request))

    def _body(self) -> bytes:
        if "Transfer-Encoding" in self.headers:
            raise RefusedError(411, "the length of the body has to be given")
        length = self.headers.get("Content-Length", "0")
        if not (length.isascii() and length.isdigit()):
            raise RefusedError(400, "the length of the body is no number")
        if int(length) > MOST_BODY:
            raise RefusedError(413, f"the most that is taken is {MOST_BODY:,} bytes")
        return self.rfile.read(int(length))

    def _send(self, answer: Response) -> None:
        assert self.server.gate is not None
        data = answer.body
        if answer.type.startswith("text/html"):
            data = data.replace(TOKEN.encode(), self.server.gate.token.encode(), 1)
        self.send_response(answer.status)
        self._heads(answer.type)
        for name, value in answer.headers.items():
            self.send_header(name, value)
        self.send_header("Content-Length", str(len(data)))
        if self.close_connection:
            self.send_header("Connection", "close")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)

    def _heads(self, type: str) -> None:
        self.send_header("Content-Type", type)
        for name, value in ALWAYS.items():
            self.send_header(name, value)
        if type != "application/pdf":  # the browser's own reader of PDF files is no part of the page
            self.send_header("Content-Security-Policy", f"{POLICY}; frame-ancestors 'none'")

    def _stream(self, request: Request) -> None:
        """Until the page goes away or the server stops; a dead one is noticed at the next comment."""
        hub = self.server.hub
        stream = hub.open(request.query.get("page", "")) if hub is not None else None
        self.close_connection = True
        if hub is None or stream is None:
            self._send(_refusal(RefusedError(503, "too many pages are open")))
            return
        try:
            self.send_response(200)
            self._heads("text/event-stream")
            self.send_header("Connection", "close")
            self.end_headers()
            self.wfile.write(b"retry: 1000\n\n")
            while (event := stream.next()) is not None:
                self.wfile.write(event)
                self.wfile.flush()
        except OSError:
            pass  # the page has gone
        finally:
            hub.close(stream)

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing: the terminal belongs to the changes."""


def _refusal(refused: RefusedError) -> Response:
    return Response(f"{refused.message}\n".encode(), "text/plain; charset=utf-8", refused.status)
