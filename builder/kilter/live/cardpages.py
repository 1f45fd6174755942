"""The tab *Card*: every card of a document and of a machine, drawn page by page, and as PDF."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from typing import TYPE_CHECKING
from urllib.parse import quote

from kilter.live.listing import findings_html, many
from kilter.live.shell import shell
from kilter.live.web import Request, Response
from kilter.model.base import fold
from kilter.publish.cards.family import Kind, Subject, file_name, kinds_for
from kilter.publish.cards.problems import CardProblems
from kilter.publish.prepare import made_machine, name_of
from kilter.publish.site.markup import NOTHING, Html, el, join, link, text
from kilter.publish.view import DocumentView, address

if TYPE_CHECKING:
    from kilter.live.bench import Bench
    from kilter.live.press import Press

MACHINE = "equipment-"
"""How the name of a machine begins among the cards, as its page does."""


class CardPages:
    """Answers for cards. The press is never asked while the bench's lock is held."""

    def __init__(self, bench: Bench, press: Press, lost: Callable[[Request], Response]) -> None:
        self.bench, self.press, self.lost = bench, press, lost

    def all(self, request: Request) -> Response:
        with self.bench.lock:
            views = list(self.bench.site.shelf.views())
            profiles = list(self.bench.site.shelf.profiles())
        rows = [el("li", link(f"/card/{v.number}", text(f"{v.number} {v.front.title}"))) for v in views]
        machines = [el("li", link(f"/card/{MACHINE}{p.profile.id}", text(p.profile.title))) for p in profiles]
        body = [el("h1", text("Cards")), el("ul", *rows, cls="documents")]
        body += [el("h2", text("Machines")), el("ul", *machines, cls="documents")] if machines else []
        return shell(self.bench, "Cards", join(body), "Card")

    def card(self, request: Request) -> Response:
        """The pages of a card: by a document's number or file, `equipment-` and a machine's id, with `.kind`."""
        name = request.path.removeprefix("/card/")
        with self.bench.lock:
            path, subject, wanted = self._found(name)
            title = name_of(self.bench.workspace.library.documents.get(path), path)
        if not path:
            return self.lost(request)
        if subject is None:
            return shell(self.bench, f"Card: {title}", self._no_card(path, title), "Card", path)
        kinds = list(kinds_for(subject))
        kind = next((k for k in kinds if k.name == wanted), None) or next(iter(kinds), None)
        if kind is None or (wanted and kind.name != wanted):
            return self.lost(request)
        heading = el("h1", text(title))
        if isinstance(subject, DocumentView) and self.press.attempt(subject, keep=kind.main):
            self.bench.changed([path])
        problems, pages = self._drawn(kind, subject)
        if problems is not None:
            body = join([heading, self._kinds(subject, kinds, kind), problems])
            return shell(self.bench, f"Card: {title}", body, "Card", path)
        file = f"/cards/{file_name(kind, subject)}"
        about = el("p", text(f"{many(len(pages), 'page')}. "), link(file, text("Open as PDF")), cls="cards")
        called = f"{subject.address.removesuffix('.html')}.{kind.name}"
        shown = (_page(called, n, len(pages), data) for n, data in enumerate(pages, 1))
        body = join([heading, self._kinds(subject, kinds, kind), about, el("div", *shown, cls="sheets")])
        return shell(self.bench, f"Card: {title}", body, "Card", path)

    def _drawn(self, kind: Kind, subject: Subject) -> tuple[Html | None, list[bytes]]:
        """What keeps it from being made, or its pages."""
        if isinstance(subject, DocumentView) and (known := self.press.problems(subject)):
            findings = known
        else:
            try:
                return None, self.press.pages(kind, subject)
            except CardProblems as trouble:
                findings = tuple(trouble.findings)
        words = el("p", text("There is no card: it can't be made as it stands."), cls="refusal")
        return join([words, findings_html(findings, self.bench.name_of)]), []

    def _kinds(self, subject: Subject, kinds: list[Kind], shown: Kind) -> Html:
        """Links to the other cards of the same document or machine."""
        stem = subject.address.removesuffix(".html")
        rows = (
            el("li", el("b", text(k.title)) if k is shown else link(f"/card/{stem}.{k.name}", text(k.title)))
            for k in kinds
        )
        return el("nav", el("ul", *rows), cls="cards", aria_label="Cards") if len(kinds) > 1 else NOTHING

    def _found(self, name: str) -> tuple[str, Subject | None, str]:
        """File, document or machine where it is sound, and the kind asked for. With the bench's lock held."""
        file = self._path(name)
        if file:
            return file, self._subject(file), ""
        stem, _, kind = name.partition(".")
        path = self._machine(stem) if fold(stem).startswith(MACHINE) else self._document(stem)
        return path, self._subject(path) if path else None, kind

    def _document(self, number: str) -> str:
        """The file of a number, also the one that had it when it could last be read."""
        document = self.bench.workspace.library.numbers.get(fold(number))
        return document.path if document else self.bench.site.shelf.addresses.owner(address(number))

    def _machine(self, stem: str) -> str:
        return self.bench.site.shelf.addresses.owner(f"{stem}.html")

    def _subject(self, path: str) -> Subject | None:
        shelf = self.bench.site.shelf
        document = self.bench.workspace.library.documents.get(path)
        if document is None or not document.is_profile:
            return shelf.view(path)
        if document not in shelf.profiles():
            return None
        views = [v for v in shelf.views() if v.equipment.id == document.profile.id]
        return made_machine(self.bench.workspace.library, document, views)

    def _path(self, name: str) -> str:
        """The path as shown of a file of the library; empty for any other name."""
        file = self.bench.file_of(name)
        path = self.bench.workspace.shown(file) if file is not None else ""
        return path if path in self.bench.workspace.library.readings else ""

    def _no_card(self, path: str, title: str) -> Html:
        name = quote(self.bench.name_of(path))
        words = text("There is no card while the document has errors. ")
        more = link(f"/findings/{name}", text("What is to mend"))
        return join([el("h1", text(title)), el("p", words, more, cls="refusal")])

    def page(self, request: Request) -> Response:
        """One page of a card as a drawing: `/card-page/NAME.KIND/PAGE`."""
        name, _, page = request.path.removeprefix("/card-page/").partition("/")
        kind, subject = self._asked(name)
        try:
            pages = self.press.pages(kind, subject) if kind and subject else []
        except CardProblems:
            pages = []
        if not (page.isascii() and page.isdigit() and 1 <= int(page) <= len(pages)):
            return self.lost(request)
        return Response(pages[int(page) - 1], "image/svg+xml")

    def file(self, request: Request) -> Response:
        kind, subject = self._asked(request.path.removeprefix("/cards/").removesuffix(".pdf"))
        if kind is None or subject is None:
            return self.lost(request)
        try:
            return Response(self.press.pdf(kind, subject), "application/pdf")
        except CardProblems:
            return self.lost(request)

    def _asked(self, name: str) -> tuple[Kind | None, Subject | None]:
        """`str-110`, `str-110.pocket`, `equipment-roan-3.tag`."""
        with self.bench.lock:
            _, subject, wanted = self._found(name)
        kinds = list(kinds_for(subject)) if subject else []
        found = (k for k in kinds if k.name == wanted or (not wanted and k.main))
        return next(found, None), subject


def _page(name: str, n: int, count: int, data: bytes) -> Html:
    """The address holds what the page looks like, so that a changed one is fetched and no other."""
    digest = hashlib.sha256(data).hexdigest()[:12]
    source = f"/card-page/{quote(name)}/{n}?v={digest}"
    return el("img", src=source, alt=f"Card, page {n} of {count}", loading="lazy", decoding="async")
