"""What each address of the live server answers."""

from __future__ import annotations

from collections.abc import Callable
from importlib.resources import files
from typing import TYPE_CHECKING
from urllib.parse import quote

from kilter.diagnostic import Diagnostic
from kilter.live.cardpages import CardPages
from kilter.live.listing import count_words, findings_html, many
from kilter.live.remarks import answer_remark
from kilter.live.shell import shell
from kilter.live.web import Request, Response, Routes
from kilter.publish.prepare import name_of
from kilter.publish.site import words
from kilter.publish.site.assemble import assets
from kilter.publish.site.inforce import REVISIONS
from kilter.publish.site.markup import NOTHING, Html, el, join, link, text
from kilter.publish.site.recordfiles import ADDRESS as RECORDS
from kilter.publish.training.paper.make import pdf_of

if TYPE_CHECKING:
    from kilter.live.bench import Bench
    from kilter.live.press import Press
    from kilter.live.trials import Trials

TYPES = {
    "css": "text/css; charset=utf-8",
    "js": "text/javascript; charset=utf-8",
    "svg": "image/svg+xml",
    "webp": "image/webp",
    "jpg": "image/jpeg",
    "woff2": "font/woff2",
    "json": "application/json; charset=utf-8",
    "pdf": "application/pdf",
}


class Handlers:
    """Pages, findings and cards of one bench."""

    def __init__(self, bench: Bench, press: Press, trials: Trials) -> None:
        self.bench, self.press, self.trials = bench, press, trials
        self.cards = CardPages(bench, press, self.lost)
        self._assets = dict(assets())
        own = files("kilter.live").joinpath("assets")
        self._own = {entry.name: entry.read_bytes() for entry in own.iterdir() if entry.is_file()}

    def routes(self) -> Routes:
        mine: dict[str, Callable[[Request], Response]] = {
            "/*": self.page,
            "/assets/*": self.asset,
            "/live/*": self.own,
            "/pictures/*": self.picture,
            "/app.webmanifest": lambda request: typed("app.webmanifest.json", b"{}"),
            f"/{REVISIONS}": lambda request: typed("revisions.json", self.bench.site.revisions()),
            f"/{RECORDS}": lambda request: typed("records.json", self.bench.site.records()),
            "/findings": self.all_findings,
            "/findings/*": self.findings,
            "/card": self.cards.all,
            "/card/*": self.cards.card,
            "/card-page/*": self.cards.page,
            "/cards/*": self.cards.file,
            "/training/*": self.sheet,
        }
        own: Routes = {("GET", path): _bound(handler) for path, handler in mine.items()}
        return {**own, ("POST", "/remarks/answer"): answer_remark}

    # pages and what they fetch

    def page(self, request: Request) -> Response:
        return self.bench.site.page(request.path[1:] or "index.html")

    def asset(self, request: Request) -> Response:
        name = request.path.removeprefix("/assets/")
        with self.bench.lock:
            data = words.script() if name == "words.js" else self._assets.get(name)
            data = data or self.bench.frame.theme_file(f"assets/{name}")
        return typed(name, data) if data is not None else self.lost(request)

    def own(self, request: Request) -> Response:
        name = request.path.removeprefix("/live/")
        return typed(name, self._own[name]) if name in self._own else self.lost(request)

    def picture(self, request: Request) -> Response:
        name = request.path.removeprefix("/pictures/")
        with self.bench.lock:
            pages = self.bench.site.pages
            data = pages.pictures.data(name) or pages.lessons.picture(name)
        return typed(name, data) if data is not None else self.lost(request)

    def sheet(self, request: Request) -> Response:
        """A sheet for trainees, printed now; whoever teaches gets the others from a build."""
        with self.bench.lock:
            found = self.bench.site.pages.lessons.sheet(request.path.removeprefix("/training/"))
        return typed("sheet.pdf", pdf_of(found)) if found is not None else self.lost(request)

    def lost(self, request: Request) -> Response:
        return self.bench.site.page("404.html")

    # findings

    def all_findings(self, request: Request) -> Response:
        """Every file that has something to mend."""
        with self.bench.lock:
            workspace = self.bench.workspace
            found = [(path, self.bench.site.shelf.said(path)) for path in workspace.paths()]
            parts = [self._of_file(path, findings) for path, findings in found if findings]
        clean = sum(not findings for _, findings in found)
        every = [d for _, findings in found for d in findings]
        words = f"{many(len(found), 'file')}: {count_words(every)}. {many(clean, 'file')} without any."
        body = join([el("h1", text("Findings")), el("p", text(words)), self._cards_left(), *parts])
        return shell(self.bench, "Findings", body, "Findings")

    def _of_file(self, path: str, findings: tuple[Diagnostic, ...]) -> Html:
        title = name_of(self.bench.workspace.library.documents.get(path), path)
        name = quote(self.bench.name_of(path))
        about = el("p", el("code", text(path)), text(f" {count_words(findings)}"))
        errors = findings_html(findings, self.bench.name_of)
        return el("section", el("h2", link(f"/findings/{name}", text(title))), about, errors, cls="of-file")

    def _cards_left(self) -> Html:
        left = self.trials.left()
        words = f"The cards of {many(left, 'file')} have not been tried yet."
        return el("p", text(words), cls="soft") if left else NOTHING

    def findings(self, request: Request) -> Response:
        """One file, each finding with the line it is about."""
        with self.bench.lock:
            path = self._path(request.path.removeprefix("/findings/"))
            if not path:
                return self.lost(request)
            workspace = self.bench.workspace
            found = self.bench.site.shelf.said(path)
            title = name_of(workspace.library.documents.get(path), path)
            listing = findings_html(found, self.bench.name_of, workspace.library.sources)
        words = f"{path}: {count_words(found)}." if found else f"{path}: nothing to mend."
        body = join([el("h1", text(title)), el("p", text(words)), listing if found else NOTHING])
        return shell(self.bench, f"Findings: {title}", body, "Findings", path)

    def _path(self, name: str) -> str:
        """The path as shown of a file of the library; empty for any other name."""
        file = self.bench.file_of(name)
        path = self.bench.workspace.shown(file) if file is not None else ""
        return path if path in self.bench.workspace.library.readings else ""


def _bound(handler: Callable[[Request], Response]) -> Callable[[Bench, Request], Response]:
    return lambda bench, request: handler(request)


def typed(name: str, data: bytes) -> Response:
    """A file with the type that its name says."""
    return Response(data, TYPES.get(name.rpartition(".")[2], "application/octet-stream"))
