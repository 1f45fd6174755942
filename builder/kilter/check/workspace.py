"""A library that stays in memory while it is being written.

Texts come from the disk or, unsaved, from an editor. After a change only what leans on it is checked again:
the document itself; with a profile, its procedures; with a number, the documents that link to numbers;
with a picture, the documents that show one of that name; with the settings, everything.
What is said is at every moment what a fresh `kilter check` would say of the same texts.
"""

from __future__ import annotations

import copy
from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath

from kilter import parallel
from kilter.check.flow.told import Told, told
from kilter.check.lookup import links
from kilter.check.rule import Context
from kilter.check.rules.structure.procedure_link import is_number
from kilter.check.run import Report, findings_between, findings_within, finished
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.model.library import Library
from kilter.model.reading import Reading
from kilter.read.document import read_bytes, read_file
from kilter.read.library import (
    FOLDER,
    LIMITS,
    begins_with_front,
    is_document,
    read_library,
    read_settings,
    shown_path,
)


@dataclass
class _Kept:
    """What one file came to, until something that it leans on changes."""

    context: Context | None
    within: list[Diagnostic]
    done: list[Diagnostic] | None = None
    """With the findings between documents; falls when any of those may differ."""
    told: Told | None = None


class Workspace:
    """A library with its findings, kept fresh. Not for several threads at once: hold a lock around it."""

    def __init__(self, root: Path, base: Path | None = None, always: Iterable[Path] = ()) -> None:
        self.root, self.base = root.resolve(), base or Path.cwd()
        self.revision = 0
        """Goes up with every change."""
        self._always = {f.resolve() for f in always}
        self._unsaved: dict[str, str] = {}
        self._kept: dict[str, _Kept] = {}
        self._between: dict[str, list[Diagnostic]] | None = None
        self.library: Library = read_library(self.root, self._always, self.base)

    def shown(self, file: Path) -> str:
        """A file's path as it stands in findings."""
        return shown_path(file.resolve(), self.base)

    def belongs(self, file: Path) -> bool:
        """Whether a file is, or with this name would be, a document of the library."""
        file = file.resolve()
        return file in self._always or is_document(file, self.root)

    # changes

    def write(self, file: Path, text: str) -> frozenset[str]:
        """Take an editor's unsaved text for a file; returns the paths whose findings may differ."""
        path = self.shown(file)
        self._unsaved[path] = text
        self.library.files.setdefault(path, file.resolve())
        self._always.add(file.resolve())
        return self._take(path, read_bytes(path, text.encode("utf-8", "surrogatepass")))

    def let_go(self, file: Path) -> frozenset[str]:
        """Forget an editor's text: what is on the disk counts again."""
        if self._unsaved.pop(self.shown(file), None) is None:
            return frozenset()
        return self.refresh([file])

    def unsaved(self, file: Path) -> bool:
        """Whether an editor's text stands in for the file."""
        return self.shown(file) in self._unsaved

    def refresh(self, files: Iterable[Path]) -> frozenset[str]:
        """Look again at files that changed, came or went; returns the paths whose findings may differ."""
        touched: set[str] = set()
        for file in sorted({f.resolve() for f in files}):
            touched |= self._refresh(file)
        return frozenset(touched)

    def _refresh(self, file: Path) -> set[str]:
        if file in (self.root.parent / "mkdocs.yml", self.root / LIMITS):
            return self._settings()
        if file.is_dir() or (not file.exists() and not file.suffix):
            return self._folder(file)
        if not self.belongs(file):
            return self._picture(file)
        path = self.shown(file)
        if path in self._unsaved:
            return set()
        if not self._on_disk(file):
            return self._gone(path) if path in self.library.readings else set()
        self.library.files[path] = file
        return set(self._take(path, read_file(file, path)))

    def _on_disk(self, file: Path) -> bool:
        """Whether the file is there and is, by the rule of its folder, one of ours."""
        if not file.exists():
            return False
        if self.root.name == FOLDER or file in self._always:
            return True
        try:
            with file.open("rb") as stream:
                return begins_with_front(stream.read(8))
        except OSError:
            return False

    def _folder(self, folder: Path) -> set[str]:
        known = [f for f in self.library.files.values() if folder in f.parents]
        there = [f for f in folder.rglob("*") if f.is_file()] if folder.is_dir() else []
        touched: set[str] = set()
        for file in sorted({*known, *there}):
            touched |= self._refresh(file)
        return touched

    def _settings(self) -> set[str]:
        settings = read_settings(self.root)
        if settings == self.library.settings:
            return set()
        self.library.settings = settings
        return self._drop(set(self.library.readings))

    def _picture(self, file: Path) -> set[str]:
        name = file.name.casefold()
        shown = {p for p, d in self.library.documents.items() for f in d.figures if _name(f.path) == name}
        return self._drop(shown | set(self.library.modules if shown else ()))

    def _take(self, path: str, reading: Reading) -> frozenset[str]:
        old = self.library.readings.get(path)
        if old is not None and old.source == reading.source:
            return frozenset()
        before = self._standing(path)
        self.library.add(reading)
        return frozenset(self._drop(self._leaning(path, before)))

    def _gone(self, path: str) -> set[str]:
        before = self._standing(path)
        self.library.remove(path)
        return self._drop(self._leaning(path, before))

    # what leans on what

    def _standing(self, path: str) -> tuple[str, frozenset[str], frozenset[str]]:
        """What others may know of a file: the profile it is, and all numbers and profiles there are."""
        document, reading = self.library.documents.get(path), self.library.readings.get(path)
        claims = reading.claims if reading else None
        mine = document.profile.id if document and document.is_profile else claims[1] if claims else ""
        return fold(mine), frozenset(self.library.numbers), frozenset(self.library.profiles)

    def _leaning(self, path: str, before: tuple[str, frozenset[str], frozenset[str]]) -> set[str]:
        after = self._standing(path)
        ids = {before[0], after[0]} - {""}
        found = {path}
        for other, document in self.library.documents.items():
            found |= {other} if equipment_of(document) in ids else set()
            if before[1] != after[1] and any(is_number(link.target) for *_, link in links(document)):
                found.add(other)
            if before[2] != after[2] and self.library.profile_of(document) is None:
                found.add(other)
        return found | set(self.library.modules)  # they are few, and lean on much: steps, machines, pictures

    def users(self, path: str) -> frozenset[str]:
        """The documents that stand on a profile."""
        document = self.library.documents.get(path)
        if document is None or not document.is_profile:
            return frozenset()
        own = fold(document.profile.id)
        return frozenset(p for p, d in self.library.documents.items() if equipment_of(d) == own and p != path)

    def _drop(self, paths: set[str]) -> set[str]:
        self.revision += 1
        for path in paths:
            self._kept.pop(path, None)
        doubled = self._between or {}
        self._between = None
        now = self._between_documents()
        for path in {p for p in {*doubled, *now} if doubled.get(p) != now.get(p)}:
            paths.add(path)
            if path in self._kept:
                self._kept[path].done = None
        return paths

    # findings

    def _between_documents(self) -> dict[str, list[Diagnostic]]:
        if self._between is None:
            self._between = {}
            for found in findings_between(self.library):
                self._between.setdefault(found.span.path, []).append(found)
        return self._between

    def _one(self, path: str) -> _Kept:
        kept = self._kept.get(path)
        if kept is None:
            context = self._fresh(path)
            kept = self._kept[path] = _Kept(context, findings_within(self.library, path, context))
        return kept

    def warm(self) -> None:
        """Check every file at once, on all cores. Workers are forks, so this comes before any thread is started."""
        paths = self.paths()
        for path, (within, states) in zip(paths, parallel.each(self._checked, paths), strict=True):
            self._kept[path] = _Kept(self._fresh(path), within, None, states)

    def _fresh(self, path: str) -> Context | None:
        document = self.library.documents.get(path)
        return Context(self.library, document, self.library.profile_of(document)) if document else None

    def _checked(self, path: str) -> tuple[list[Diagnostic], Told | None]:
        context = self._fresh(path)
        within = findings_within(self.library, path, context)
        faulty = context is None or any(d.severity is Severity.ERROR for d in within)
        return within, None if context is None or faulty else told(context.analysis)

    def aside(self) -> Workspace:
        """One that can be changed with no trace in this one; what is worked out already is shared."""
        own = copy.copy(self)
        library = self.library
        own.library = replace(
            library,
            documents=dict(library.documents),
            modules=dict(library.modules),
            sources=dict(library.sources),
            readings=dict(library.readings),
            files=dict(library.files),
            waiting=dict(library.waiting),
        )
        own._unsaved, own._always = dict(self._unsaved), set(self._always)
        own._kept = {path: replace(kept) for path, kept in self._kept.items()}
        return own

    def paths(self) -> list[str]:
        """Every file of the library, as shown."""
        return sorted(self.library.readings)

    def beside(self) -> list[str]:
        """Files that are no documents and have findings all the same: a table of the library."""
        return sorted(set(self._between_documents()) - set(self.library.readings))

    def findings(self, path: str) -> list[Diagnostic]:
        """All there is to say about one file, in order of place."""
        if path not in self.library.readings:
            return finished(None, self._between_documents().get(path, []))
        kept = self._one(path)
        if kept.done is None:
            more = self._between_documents().get(path, [])
            whole = self.library.documents.get(path) or self.library.modules.get(path)
            kept.done = finished(whole, [*kept.within, *more])
        return kept.done

    def sound(self, path: str) -> bool:
        """Whether a file has no error."""
        return not any(d.severity is Severity.ERROR for d in self.findings(path))

    def context(self, path: str) -> Context | None:
        """A document under check, with its profile and energy states; None where there is no document."""
        return self._one(path).context

    def told(self, path: str) -> Told | None:
        """What pages need of the energy states; None for a document with errors."""
        kept = self._one(path)
        if kept.told is None and kept.context is not None and self.sound(path):
            kept.told = told(kept.context.analysis)
        return kept.told

    def report(self) -> Report:
        """Everything, as `check_library(library, tell=True)` gives it."""
        report = Report()
        for path in self.paths():
            report.found[path] = self.findings(path)
            context, states = self.context(path), self.told(path)
            if context is not None:
                report.contexts[path] = context
            if states is not None:
                report.told[path] = states
        for path in self.beside():
            report.found[path] = self.findings(path)
        return report


def equipment_of(document: Document) -> str:
    """Folded id of the profile a document stands on; of a profile its own."""
    front = document.front
    return fold(front.id if isinstance(front, ProfileFront) else front.equipment)


def _name(path: str) -> str:
    return PurePosixPath(path.replace("\\", "/")).name.casefold()
