"""From a folder to what may be published: read, check, withhold, put together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from kilter.check.run import Report, check_library
from kilter.compute.contenthash import content_hash
from kilter.compute.pictureinfo import picture_info
from kilter.diagnostic import Diagnostic
from kilter.model.document import Document
from kilter.model.library import Library
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
    bad = {path for path in library.sources if report.errors(path)}
    for path in sorted(library.sources):
        _sort_in(ready, path, bad)
    ready.views.sort(key=lambda v: v.number.lower())
    ready.profiles.sort(key=lambda p: p.profile.id)
    front = root / FRONT_PAGE
    ready.front_page = front.read_text(encoding="utf-8", errors="replace") if front.is_file() else ""
    return ready


def _sort_in(ready: Prepared, path: str, bad: set[str]) -> None:
    document = ready.library.documents.get(path)
    if document is None or path in bad:
        ready.withheld.append(Withheld(path, _name(document, path), tuple(ready.report.errors(path))))
        return
    if document.is_profile:
        ready.profiles.append(document)
        return
    profile = ready.library.profile_of(document)
    if profile is None or profile.path in bad:
        because = profile.path if profile else ""
        found = tuple(ready.report.errors(because)) if because else ()
        ready.withheld.append(Withheld(path, _name(document, path), found, because))
        return
    states = ready.report.told[path]
    digest = content_hash(document, profile, _pictures(ready.library, document, profile))
    ready.views.append(view_of(ready.library, document, states, digest))


def _name(document: Document | None, path: str) -> str:
    if document is None:
        return path
    front = document.front
    return f"{getattr(front, 'number', None) or getattr(front, 'id', '')} {front.title}"


def _pictures(library: Library, *documents: Document) -> dict[str, str]:
    """SHA-256 of each picture's bytes under the key that the content hash asks for."""
    found: dict[str, str] = {}
    for document in documents:
        for figure in document.figures:
            digest = picture_info(library.file_of(document.path).parent / figure.path).sha256
            if digest:
                found[f"{document.path}:{figure.path}"] = digest
    return found
