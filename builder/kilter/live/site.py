"""All pages of the site as they stand now, by address."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kilter.live.addresses import number_of
from kilter.live.facts import Memory
from kilter.live.pages import Pages
from kilter.live.preview import Previews
from kilter.live.remarks import Remarks, with_remarks
from kilter.live.shelf import Shelf
from kilter.live.shell import finished
from kilter.live.web import Response
from kilter.publish.site import recordfiles
from kilter.publish.site.handbook import LOST
from kilter.publish.site.markup import Html, el, join, link, text
from kilter.publish.site.page import Page

if TYPE_CHECKING:
    from kilter.live.bench import Bench

KEPT = 300
"""Pages that stay in memory; the one not asked for the longest goes first."""


class LiveSite:
    """Makes each page when it is asked for and keeps it while all that it shows is the same."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.shelf = Shelf(bench)
        self.pages = Pages(self.shelf)
        self.previews = Previews(self.pages, bench.name_of)
        self.remarks = Remarks(bench.folder)
        self.remarks.changed()
        self.shelf.facts.questions |= {
            "remarks": self.remarks.of,
            "remarks trouble": lambda _: self.remarks.trouble,
        }
        self._bodies: Memory[tuple[Page, str, int]] = Memory(self.shelf.facts, KEPT)
        self._whole: Memory[Response] = Memory(self.shelf.facts, KEPT)
        self._records: Memory[bytes] = Memory(self.shelf.facts, 1)

    def body(self, address: str) -> tuple[Page, str, int]:
        """A page without its frame, the path of the file it shows (or nothing), and its status."""
        with self.bench.lock:
            return self._bodies.get(address, lambda: self._body(address))

    def page(self, address: str) -> Response:
        """The whole page with the bar on top."""
        with self.bench.lock:
            self.look_for_remarks()
            return self._whole.get(address, lambda: self._dressed(address))

    def look_for_remarks(self) -> None:
        """Remarks may have come in since; then whatever shows some is made again."""
        if self.remarks.changed():
            self.bench.changed(())

    def revisions(self) -> bytes:
        with self.bench.lock:
            return self.pages.revisions()

    def records(self) -> bytes:
        with self.bench.lock:
            return self._records.get(recordfiles.ADDRESS, self.pages.records)

    def plain(self, address: str) -> str:
        """The whole page as a build writes it, without the bar."""
        with self.bench.lock:
            return self.bench.frame.around(self.body(address)[0])

    def _dressed(self, address: str) -> Response:
        page, path, status = self.body(address)
        frame = self.shelf.facts.ask("frame")
        html = frame.around(page).replace(
            "</head>", '<link rel="stylesheet" href="/live/live.css">\n</head>', 1
        )
        shown = path and not address.startswith("states-")
        document = self.shelf.facts.ask("document", path) if shown else None
        if document is not None and not document.is_profile:
            ask = self.shelf.facts.ask
            html = with_remarks(html, ask("remarks", number_of(document)), ask("remarks trouble"))
        return finished(self.bench, html, "Page", path, status)

    def _body(self, address: str) -> tuple[Page, str, int]:
        self.shelf.facts.ask("words")
        made = self.pages.common(address)
        if made is not None:
            return made, "", 404 if address == LOST else 200
        states = address.startswith("states-")
        path = str(self.shelf.facts.ask("owner", address.removeprefix("states-") if states else address))
        if not path:
            return self._lost(address), "", 404
        if states:
            return self.pages.states(path) or self.previews.states(path, address), path, 200
        document = self.shelf.facts.ask("document", path)
        own = self.pages.equipment if document is not None and document.is_profile else self.pages.document
        return own(path) or self.previews.page(path, address), path, 200

    def _lost(self, address: str) -> Page:
        """No such page, and where it went if it was here a moment ago."""
        lost = self.pages.common(LOST)
        assert lost is not None
        before = self.shelf.addresses.before(address)
        if not before:
            return lost
        now = str(self.shelf.facts.ask("page of", before))
        said = el("p", text(f"It was made from {before}, "), self._where(now), text("."))
        return Page(address, lost.title, join([lost.body, said]), lost.template)

    @staticmethod
    def _where(now: str) -> Html:
        return (
            join([text("which now is "), link(now, text(now))])
            if now
            else text("which is not there any more")
        )
