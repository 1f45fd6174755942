"""Which documents lean on files that changed: whose findings may be others now."""

from __future__ import annotations

import os.path
from collections.abc import Collection
from pathlib import Path

from kilter.check.lookup import links
from kilter.check.rules.structure.procedure_link import is_number
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.model.library import Library

Key = tuple[str, str]
"""`profile` or `number`, and the folded name."""


def leaning_on(library: Library, changed: Collection[Path]) -> frozenset[str]:
    """Paths of the changed documents and of those that lean on any of the changed files.

    A document leans on its profile, on the pictures it shows, on the documents it links to, on those that
    claim its own number or id, and on the library's settings. A file deleted or renamed can leave a name that
    nobody has, so once any document changed, those that name such a one are among them as well.
    """
    library.read_waiting()
    if library.root.parent / "mkdocs.yml" in changed:
        return frozenset(library.readings)
    own = {path for path in library.readings if library.file_of(path) in changed}
    keys = {_key(library.documents[path]) for path in own if path in library.documents}
    known = {_key(document) for document in library.documents.values()}
    touched = any(file.suffix == ".md" and file.is_relative_to(library.root) for file in changed)
    leaning = set(own)
    for path, document in library.documents.items():
        named = _named(document)
        lost = touched and bool(named - known)
        if lost or (named | {_key(document)}) & keys or _shows(library, document, changed):
            leaning.add(path)
    if leaning:
        leaning |= set(library.modules)  # a module leans on whatever it covers and all that leans on
    return frozenset(leaning)


def _key(document: Document) -> Key:
    return ("profile" if document.is_profile else "number", document.key)


def _named(document: Document) -> set[Key]:
    """What a document names of others: its profile and the numbers it links to."""
    found = {("number", fold(link.target)) for *_, link in links(document) if is_number(link.target)}
    if not isinstance(document.front, ProfileFront):
        found.add(("profile", fold(document.front.equipment)))
    return found


def _shows(library: Library, document: Document, changed: Collection[Path]) -> bool:
    folder = library.file_of(document.path).parent
    shown = {Path(os.path.normpath(folder / figure.path)) for figure in document.pictures}
    return any(picture in changed or picture.resolve() in changed for picture in shown)
