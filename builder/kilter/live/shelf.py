"""What the library's documents come to for the pages: views, lists, who is withheld, whose address is whose."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from kilter.check.flow import Analysis
from kilter.compute.pictureinfo import picture_info
from kilter.diagnostic import Diagnostic, Severity
from kilter.live.addresses import Addresses
from kilter.live.facts import Facts, Memory
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.publish.prepare import Withheld, held_back, made_view, name_of
from kilter.publish.site import words
from kilter.publish.site.assemble import reserved
from kilter.publish.view import DocumentView
from kilter.read.library import FRONT_PAGE

if TYPE_CHECKING:
    from kilter.live.bench import Bench

Item = TypeVar("Item")
CardProblems = Callable[[DocumentView], tuple[Diagnostic, ...]]
"""What keeps a document's card from being made, as far as it has been tried."""


class Shelf:
    """Answers what pages ask. Everything here is called with the bench's lock held."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.workspace = bench.workspace
        self.facts = Facts(lambda: bench.generation)
        self.card_problems: CardProblems = lambda view: ()
        self.addresses = Addresses(bench)
        self._views: Memory[DocumentView | None] = Memory(self.facts)
        self._sorted: dict[str, tuple[int, list[Any]]] = {}
        self.facts.questions |= {
            "errors": self.errors,
            "said": self.said,
            "document": lambda path: self.workspace.library.documents.get(path),
            "source": lambda path: self.workspace.library.sources.get(path),
            "profile": self._profile,
            "broken profile": lambda id: self.workspace.library.broken_profile(id) or "",
            "told": lambda path: self._known(path, self.workspace.told),
            "analysis": self._analysis,
            "settings": lambda _: self.workspace.library.settings,
            "picture": _picture,
            "view": self.view,
            "published": self.published,
            "views": lambda _: self.views(),
            "views of": self._views_of,
            "profiles": lambda _: self.profiles(),
            "withheld": lambda _: self.withheld(),
            "link": self._link,
            "link withheld": self._link_withheld,
            "equipment": self._equipment,
            "front": lambda _: self._front(),
            "page of": self.addresses.of,
            "words": lambda _: (words.now().language, words.now().written),
            "frame": lambda _: self.bench.frame,
            "trouble": lambda _: self.bench.trouble,
            "owner": self.addresses.owner,
            "modules": lambda _: tuple(sorted(self.workspace.library.modules)),
            "module": lambda path: self.workspace.library.modules.get(path),
            "library": lambda _: self.workspace.library,
            "pictures": self._pictures_of,
        }

    # one document

    def _known(self, path: str, ask: Callable[[str], Any]) -> Any:
        return ask(path) if path in self.workspace.library.readings else None

    def errors(self, path: str) -> tuple[Diagnostic, ...]:
        found = self._known(path, self.workspace.findings) or ()
        return tuple(d for d in found if d.severity is Severity.ERROR)

    def said(self, path: str) -> tuple[Diagnostic, ...]:
        """All there is to say about a file, also of its card and its address."""
        view = self.view(path)
        return (*(self._known(path, self.workspace.findings) or ()), *(self.refused(view) if view else ()))

    def _profile(self, path: str) -> Document | None:
        document = self.workspace.library.documents.get(path)
        return self.workspace.library.profile_of(document) if document else None

    def _analysis(self, path: str) -> Analysis | None:
        context = self._known(path, self.workspace.context)
        return context.analysis if context else None

    def view(self, path: str) -> DocumentView | None:
        """A sound document on a sound profile, whatever its card does; None for all else."""
        return self._views.get(path, lambda: self._view(path))

    def _view(self, path: str) -> DocumentView | None:
        ask = self.facts.ask
        document, profile = ask("document", path), ask("profile", path)
        if document is None or document.is_profile or profile is None:
            return None
        if ask("errors", path) or ask("errors", profile.path):
            return None
        ask("settings")
        self.ask_pictures(document, profile)
        return made_view(self.workspace.library, document, ask("told", path))

    def ask_pictures(self, *documents: Document) -> None:
        """Note that what is being made stands on the bytes of these documents' pictures."""
        library = self.workspace.library
        for document in documents:
            for figure in document.pictures:
                self.facts.ask("picture", str(library.file_of(document.path).parent / figure.path))

    def _pictures_of(self, path: str) -> tuple[str, ...]:
        """Digests of all pictures of a document and its profile, in order."""
        library = self.workspace.library
        documents = [d for d in (library.documents.get(path), self._profile(path)) if d is not None]
        places = [(library.file_of(d.path).parent, f.path) for d in documents for f in d.pictures]
        return tuple(_picture(str(folder / name)) for folder, name in places)

    def published(self, path: str) -> DocumentView | None:
        """What a build would publish, as far as the cards have been tried."""
        view = self.view(path)
        return None if view is None or self.refused(view) else view

    def refused(self, view: DocumentView) -> tuple[Diagnostic, ...]:
        """Why a sound document is not published: its card, else its address."""
        found = self.card_problems(view)
        if not found and self._taken(view.address):
            found = (reserved(view),)
        return found

    def _taken(self, page: str) -> bool:
        """Whether the site has a page of its own at this address; the check refuses most such numbers."""
        number = fold(page.removeprefix("states-").removesuffix(".html"))
        other = self.workspace.library.numbers.get(number) if page.startswith("states-") else None
        return page in self.addresses.fixed or (other is not None and self.view(other.path) is not None)

    # lists

    def views(self) -> list[DocumentView]:
        """All that is published, by number."""
        self._views.forget(lambda path: path in self.workspace.library.readings)
        return self._list("views", self.workspace.paths(), self.published, lambda v: v.number.lower())

    def profiles(self) -> list[Document]:
        """Profiles without errors, by id."""
        return self._list("profiles", self.workspace.paths(), self._sound_profile, lambda p: p.profile.id)

    def _views_of(self, path: str) -> list[DocumentView]:
        paths = sorted(self.workspace.users(path))
        return self._list(f"of {path}", paths, self.published, lambda v: v.number.lower())

    def _sound_profile(self, path: str) -> Document | None:
        document = self.workspace.library.documents.get(path)
        return document if document and document.is_profile and not self.errors(path) else None

    def _list(
        self, name: str, paths: Sequence[str], each: Callable[[str], Item | None], key: Callable[[Item], str]
    ) -> list[Item]:
        """The same list object as before as long as all in it are the same."""
        known = self._sorted.get(name)
        if known and known[0] == self.bench.generation:
            return known[1]
        fresh = sorted((item for path in paths if (item := each(path)) is not None), key=key)
        old = known[1] if known else []
        if len(old) == len(fresh) and all(a is b for a, b in zip(old, fresh, strict=True)) and known:
            fresh = old
        self._sorted[name] = (self.bench.generation, fresh)
        return fresh

    def withheld(self) -> tuple[Withheld, ...]:
        """In the order of a build: errors by path, then cards, then addresses, both by number."""
        library, paths = self.workspace.library, self.workspace.paths()
        first = [w for path in paths if (w := held_back(library, path, self.errors)) is not None]
        views = sorted((v for p in paths if (v := self.view(p))), key=lambda v: v.number.lower())
        cards = [(v, found) for v in views if (found := self.card_problems(v))]
        names = [(v, found) for v in views if not self.card_problems(v) and (found := self.refused(v))]
        more = [Withheld(v.document.path, name_of(v.document, ""), found) for v, found in (*cards, *names)]
        return (*first, *more)

    # names

    def _numbered(self, number: str) -> DocumentView | None:
        document = self.workspace.library.numbers.get(number)
        return self.published(document.path) if document else None

    def _link(self, number: str) -> tuple[str, str] | None:
        view = self._numbered(number)
        return (view.address, view.front.title) if view else None

    def _link_withheld(self, number: str) -> bool:
        return number in self.workspace.library.numbers and self._numbered(number) is None

    def _equipment(self, id: str) -> str:
        """The exact id of a sound profile; empty where there is none."""
        profile = next((p for p in self.profiles() if fold(p.profile.id) == id), None)
        return profile.profile.id if profile else ""

    def _front(self) -> str:
        file = self.bench.root / FRONT_PAGE
        try:
            return file.read_text(encoding="utf-8", errors="replace") if file.is_file() else ""
        except OSError:
            return ""


def _picture(file: str) -> str:
    return picture_info(Path(file)).sha256
