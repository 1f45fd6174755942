"""The page of a document that has errors: as much of it as can be shown, with each finding at its step."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING
from urllib.parse import quote

from kilter.diagnostic import Diagnostic, Severity
from kilter.live.addresses import page_of
from kilter.live.drawings import PatientPictures
from kilter.live.listing import findings_html, refusal, told
from kilter.model.document import Document, Stage, Step
from kilter.publish.prepare import made_view, name_of
from kilter.publish.site.blocks import blocks_html
from kilter.publish.site.document import document_page
from kilter.publish.site.equipment import equipment_page, stage_html
from kilter.publish.site.markup import NOTHING, Html, el, join, link, some, text
from kilter.publish.site.page import DOCUMENT, STATES, Page
from kilter.publish.site.scope import Scope
from kilter.publish.site.states import states_page
from kilter.publish.view import states_address

if TYPE_CHECKING:
    from kilter.live.pages import Pages


class Previews:
    """Pages that a build would not make. Called with the bench's lock held."""

    def __init__(self, pages: Pages, link_name: Callable[[str], str]) -> None:
        self.pages, self.shelf, self.facts = pages, pages.shelf, pages.facts
        self.pictures = PatientPictures(pages.pictures)
        self.link_name = link_name

    def page(self, path: str, address: str) -> Page:
        """The page of any file that is not published, also of one that can't be read."""
        findings: tuple[Diagnostic, ...] = self.facts.ask("said", path)
        document: Document | None = self.facts.ask("document", path)
        title = name_of(document, path)
        errors = [d for d in findings if d.severity is Severity.ERROR]
        if document is None:
            parts = [
                refusal(len(errors), self.link_name(path)),
                el("h1", text(title)),
                self._unread(),
                self._list(findings, path),
            ]
            return Page(address, title, join(parts), DOCUMENT)
        remarks = _Remarks(findings, document, self.facts.ask("profile", path), self.link_name)
        body = self._body(document, remarks)
        head = some(
            refusal(len(errors), self.link_name(path)) if errors else NOTHING, self._because(document, path)
        )
        notes = self._list([d for d in findings if d not in remarks.said], path)
        return Page(address, title, join([head, remarks.contents(), notes, body]), DOCUMENT)

    def states(self, path: str, address: str) -> Page:
        """The reviewer's page, as far as the states can be worked out."""
        document, analysis = self.facts.ask("document", path), self.facts.ask("analysis", path)
        title = f"{name_of(document, path)}: states step by step"
        head = refusal(len(self.facts.ask("errors", path)))
        try:
            view = made_view(self.shelf.workspace.library, document, analysis)
            return Page(
                states_address(view.number), title, join([head, states_page(view, analysis).body]), STATES
            )
        except Exception:  # what an unsound document makes of the states is anybody's guess
            back = link(page_of(document), text("the page of the document")) if document else NOTHING
            words = el(
                "p", text("The states can't be worked out while it has these errors. See "), back, text(".")
            )
            return Page(address, title, join([head, el("h1", text(title)), words]), STATES)

    def _list(self, findings: Sequence[Diagnostic], path: str) -> Html:
        if not findings:
            return NOTHING
        source = self.facts.ask("source", path)
        words = el("h2", text("To mend"), id="to-mend.")
        return el("section", words, findings_html(findings, self.link_name, {path: source}), cls="to-mend")

    def _because(self, document: Document, path: str) -> Html:
        profile = self.facts.ask("profile", path)
        if profile is None:
            return self._without_profile(document)
        if profile is document or not self.facts.ask("errors", profile.path):
            return NOTHING
        to = link(page_of(profile), text(profile.front.title))
        return el("p", text("Not publishable: its equipment profile has errors. See "), to, cls="refusal")

    def _without_profile(self, document: Document) -> Html:
        id = str(getattr(document.front, "equipment", ""))
        broken: str = self.facts.ask("broken profile", id)
        words = f"There is no equipment profile `{id}`, so neither energies nor states can be shown. "
        more = NOTHING
        if broken:
            words = (
                f"Its equipment profile {broken} can't be read, so neither energies nor states can be shown. "
            )
            more = link(f"/findings/{quote(self.link_name(broken))}", text("What is wrong with it"))
        return el("p", told(words), text(" "), more, cls="refusal")

    @staticmethod
    def _unread() -> Html:
        return el(
            "p", text("The file can't be read, so there is no page to show. It comes back once it can.")
        )

    def _body(self, document: Document, remark: _Remarks) -> Html:
        """The page proper; where the errors do not let it be made, the bare stages."""
        for make in (self._whole, self._bare):
            remark.start()
            try:
                return make(document, remark)
            except Exception:  # any part may be missing in a document with errors; the next way needs less
                continue
        return el("p", text("What is written can't be shown as a page while it has these errors."))

    def _whole(self, document: Document, remark: _Remarks) -> Html:
        directory, pictures = self.pages.directory, self.pictures
        if document.is_profile:
            views = self.facts.ask("views of", document.path)
            return equipment_page(document, views, directory, pictures, remark).body
        profile = self.facts.ask("profile", document.path)
        self.shelf.ask_pictures(document, profile)
        self.facts.ask("settings")
        analysis = self.facts.ask("analysis", document.path)
        view = made_view(self.shelf.workspace.library, document, analysis)
        return document_page(view, directory, pictures, (), remark, published=False).body

    def _bare(self, document: Document, remark: _Remarks) -> Html:
        steps = {(document.path, s.slug): (s.slug, document.numbers[s.slug]) for _, s in document.all_steps()}
        draw = self.pictures.drawer({})
        scope = Scope(self.pages.directory, document, draw, steps, {}, None, remark)
        stages = join(stage_html(stage, scope) for stage in document.stages)
        title = el("header", el("h1", text(document.front.title)), cls="title-block")
        return join([title, blocks_html(document.blocks, scope), stages])


class _Remarks:
    """Gives each stage and step its findings, and remembers which it gave."""

    def __init__(
        self,
        findings: Sequence[Diagnostic],
        document: Document,
        profile: Document | None,
        name: Callable[[str], str],
    ) -> None:
        self.name = name
        self.said: list[Diagnostic] = []
        self._at: list[tuple[str, str, list[Diagnostic]]] = []
        self._of: dict[tuple[str, int], list[Diagnostic]] = {}
        owners = {d.path: _headings(d) for d in (document, profile) if d is not None}
        for found in findings:
            lines = [n for n in owners.get(found.span.path, ()) if n <= found.span.line]
            if lines:
                self._of.setdefault((found.span.path, max(lines)), []).append(found)

    def start(self) -> None:
        """Nothing has been said yet: the page is made anew."""
        self.said.clear()
        self._at.clear()

    def __call__(self, part: Stage | Step) -> Html:
        found = self._of.get((part.heading_span.path, part.heading_span.line), [])
        if not found:
            return NOTHING
        id = f"found.{len(self._at) + 1}"
        self.said += found
        self._at.append((id, part.title, found))
        return el("div", findings_html(found, self.name), cls="remark", id=id)

    def contents(self) -> Html:
        """What has been said further down, each with the way to it."""
        rows = (
            el("li", link(f"#{id}", text(title)), text(": "), told(d.message))
            for id, title, found in self._at
            for d in found
        )
        heading = el("h2", text("To mend in the steps"), id="in-steps.")
        return el("section", heading, el("ol", *rows), cls="to-mend") if self._at else NOTHING


def _headings(document: Document) -> list[int]:
    stages = (stage.heading_span.line for stage in document.stages)
    return [*stages, *(step.heading_span.line for _, step in document.all_steps())]
