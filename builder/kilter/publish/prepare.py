"""From a folder to what may be published: read, check, withhold, put together."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from kilter.check.flow import Analysis
from kilter.check.flow.told import Told
from kilter.check.picturehash import picture_hashes
from kilter.check.run import Report, check_library
from kilter.compute.contenthash import content_hash
from kilter.diagnostic import Diagnostic
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.model.training import Module
from kilter.publish.machine import MachineView, machine_of
from kilter.publish.view import DocumentView, view_of
from kilter.read.library import FRONT_PAGE, read_library


@dataclass(frozen=True)
class Withheld:
    """A document that is not published, and the errors that say why."""

    path: str
    name: str
    """Number and title where they could be read, else the path."""
    errors: tuple[Diagnostic, ...]
    because_of: str = ""
    """The path of the profile whose errors hold it back, if it has none of its own."""


@dataclass
class Prepared:
    """Everything the publishers need. Views and profiles have no errors."""

    library: Library
    report: Report
    views: list[DocumentView] = field(default_factory=list)
    """By number."""
    profiles: list[Document] = field(default_factory=list)
    """By id."""
    withheld: list[Withheld] = field(default_factory=list)
    modules: list[Module] = field(default_factory=list)
    """Training modules that cover published documents only, by number."""
    front_page: str = ""
    """Markdown of the library's own front page, empty if it has none."""
    base: Path = Path()
    """Where the documents' paths count from."""


def prepare(root: Path, progress: Callable[[str], None] = lambda line: None) -> Prepared:
    """Read and check the library below `root`; nothing is written."""
    progress("reading")
    library = read_library(root)
    progress(f"checking {len(library.sources)} files")
    report = check_library(library, tell=True)
    ready = Prepared(library, report, base=Path.cwd())
    for path in sorted(library.sources):
        _sort_in(ready, path)
    _modules(ready)
    ready.views.sort(key=lambda v: v.number.lower())
    ready.profiles.sort(key=lambda p: p.profile.id)
    front = root / FRONT_PAGE
    ready.front_page = front.read_text(encoding="utf-8", errors="replace") if front.is_file() else ""
    return ready


def _modules(ready: Prepared) -> None:
    """A module stands on every document that it covers: where one is withheld, so is the module."""
    for path, module in sorted(ready.library.modules.items()):
        own = tuple(ready.report.errors(path))
        name = f"{module.front.number} {module.front.title}"
        lost = unpublished(ready, module)
        if own or lost:
            ready.withheld.append(Withheld(path, name, own, "" if own else lost[0].path))
        else:
            ready.modules.append(module)
    ready.modules.sort(key=lambda m: m.key)


def unpublished(ready: Prepared, module: Module) -> list[Document]:
    """Documents that a module covers or takes something from, and that are withheld."""
    published = {fold(view.number) for view in ready.views}
    found = (ready.library.number(number) for number in module.leans_on)
    return [d for d in found if d is not None and fold(d.key) not in published]


def _sort_in(ready: Prepared, path: str) -> None:
    if path in ready.library.modules:
        return
    held = held_back(ready.library, path, ready.report.errors)
    if held is not None:
        ready.withheld.append(held)
        return
    document = ready.library.documents[path]
    if document.is_profile:
        ready.profiles.append(document)
    else:
        ready.views.append(made_view(ready.library, document, ready.report.told[path]))


def held_back(library: Library, path: str, errors: Callable[[str], Sequence[Diagnostic]]) -> Withheld | None:
    """Why a file is not published: its own errors, or those of the profile it stands on; None if it is."""
    document, own = library.documents.get(path), tuple(errors(path))
    if path in library.modules:
        return _module_held_back(library, library.modules[path], own, errors)
    if document is None or own:
        return Withheld(path, name_of(document, path), own)
    if document.is_profile:
        return None
    profile = library.profile_of(document)
    if profile is None:
        return Withheld(path, name_of(document, path), ())
    found = tuple(errors(profile.path))
    return Withheld(path, name_of(document, path), found, profile.path) if found else None


def _module_held_back(
    library: Library,
    module: Module,
    own: tuple[Diagnostic, ...],
    errors: Callable[[str], Sequence[Diagnostic]],
) -> Withheld | None:
    name = f"{module.front.number} {module.front.title}"
    if own:
        return Withheld(module.path, name, own)
    for number in module.leans_on:
        document = library.number(number)
        if document is not None and held_back(library, document.path, errors) is not None:
            return Withheld(module.path, name, (), document.path)
    return None


def made_view(library: Library, document: Document, states: Analysis | Told) -> DocumentView:
    """The view of a document that has a profile, with its content hash."""
    profile = library.profile_of(document)
    assert profile is not None
    pictures = picture_hashes(library, document, profile)
    return view_of(library, document, states, content_hash(document, profile, pictures), pictures)


def made_machine(library: Library, profile: Document, views: Iterable[DocumentView]) -> MachineView:
    """The machine of a sound profile, with those of `views` that are for it."""
    digest = content_hash(profile, None, picture_hashes(library, profile))
    return machine_of(profile, digest, library.settings.contact, library.settings.site_url, views)


def machines(ready: Prepared) -> list[MachineView]:
    """Every machine that is published, by id."""
    return [made_machine(ready.library, profile, ready.views) for profile in ready.profiles]


def name_of(document: Document | None, path: str) -> str:
    """Number and title, or the path of what could not be read."""
    if document is None:
        return path
    front = document.front
    return f"{getattr(front, 'number', None) or getattr(front, 'id', '')} {front.title}"
