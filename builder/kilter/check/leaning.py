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
    return frozenset(leaning | modules_leaning_on(library, leaning))


def modules_leaning_on(library: Library, paths: Collection[str]) -> set[str]:
    """Training modules that are among the paths, or teach or take something from a document among them."""
    among = [d for path in paths if (d := library.documents.get(path)) is not None]
    machines = {fold(d.key) for d in among if d.is_profile}
    keys = {fold(d.key) for d in among}
    keys |= {
        fold(d.key)
        for d in library.numbers.values()
        if not isinstance(d.front, ProfileFront) and fold(d.front.equipment) in machines
    }
    there = set(library.numbers)
    found = set()
    for path, module in library.modules.items():
        named = {fold(number) for number in module.leans_on}
        if path in paths or named & keys or named - there:
            found.add(path)
    return found


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
