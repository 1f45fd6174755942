"""Between server and routes: a fault of ours becomes a page that says so, and the server goes on."""

from __future__ import annotations

import hashlib
from collections.abc import Callable

from kilter.live.bench import Bench
from kilter.live.routes import answer
from kilter.live.shell import shell
from kilter.live.web import Request, Response, Routes
from kilter.publish.site.markup import el, join, text


class Guarded:
    """Answers every request with something."""

    def __init__(self, log: Callable[[str], None]) -> None:
        self.log = log
        self.bench: Bench | None = None
        self.routes: Routes = {}

    def use(self, bench: Bench, routes: Routes) -> None:
        self.bench, self.routes = bench, routes

    def answer(self, request: Request) -> Response:
        assert self.bench is not None
        asked = Request("GET", *_rest(request)) if request.method == "HEAD" else request
        try:
            found = answer(self.bench, self.routes, asked)
            return found or Response(b"there is nothing at this address\n", "text/plain; charset=utf-8", 404)
        except Exception as fault:
            return self._faulty(self.bench, request, fault)

    def version(self, target: str) -> str:
        """What tells one look of a page from another."""
        path, _, query = target.partition("?")
        given = dict(part.partition("=")[::2] for part in query.split("&") if part)
        found = self.answer(Request("GET", path, given))
        return found.headers.get("x-kilter-version") or hashlib.sha256(found.body).hexdigest()[:16]

    def _faulty(self, bench: Bench, request: Request, fault: Exception) -> Response:
        what = f"{type(fault).__name__}: {fault}"
        self.log(f"{request.path}: the tool itself failed: {what}")
        if request.method == "POST":
            return Response(f"the tool itself failed: {what}\n".encode(), "text/plain; charset=utf-8", 500)
        words = (
            f"The page {request.path} could not be made: {what}.",
            "This is a fault of the tool, not of the document alone: please report it with the file.",
            "All other pages go on, and this one comes back as soon as it can be made.",
        )
        try:
            body = join([el("h1", text("The tool itself failed")), *(el("p", text(w)) for w in words)])
            return shell(bench, "The tool itself failed", body, "", status=500)
        except Exception:  # even the frame fails: say it without
            return Response("\n".join(words).encode(), "text/plain; charset=utf-8", 500)


def _rest(request: Request) -> tuple[str, dict[str, str], dict[str, str], bytes]:
    return request.path, request.query, request.headers, request.body
