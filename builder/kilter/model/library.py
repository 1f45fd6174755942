"""All documents of one library."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.model.reading import Reading
from kilter.model.training import Module
from kilter.source import Source


@dataclass(frozen=True)
class Settings:
    """What the library's `mkdocs.yml` says to Kilter; every value has a default."""

    name: str = "Repair procedures"
    contact: str = ""
    """Whom to call about a machine that is left tagged."""
    site_url: str = ""
    idle: int = 30
    """Minutes without an entry after which a run on the phone has to prove again."""
    shelf_days: int = 14
    """Days without a look at the server after which a phone warns of what it keeps."""
    hold_words: tuple[str, ...] = ()
    """Further words for how a source is held, besides the built-in ones."""
    limits: str = ""
    """The library's own table of electrical limits, as text; empty where it has none."""


@dataclass(frozen=True, slots=True)
class Claim:
    """What a file's front matter seems to say at a glance."""

    profile: bool
    name: str
    """Folded number; of a profile its id."""
    module: bool = field(default=False, compare=False)
    """Whether it is a training module: numbers are unique among those and documents together."""


@dataclass
class Library:
    """Documents by their path, with the look-ups that the checks need."""

    root: Path
    documents: dict[str, Document] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=dict)
    readings: dict[str, Reading] = field(default_factory=dict)
    modules: dict[str, Module] = field(default_factory=dict)
    """Training modules by path; they are no documents: nothing that is followed at a machine stands in them."""
    settings: Settings = Settings()
    files: dict[str, Path] = field(default_factory=dict)
    """Where each document stands on the disk, by its path as shown."""
    waiting: dict[str, Claim] = field(default_factory=dict)
    """Files that were only glanced at, by path; each is read when somebody asks for what it claims to be."""
    fetch: Callable[[str], Reading] | None = None
    """Reads one that waits."""

    def file_of(self, path: str) -> Path:
        """The file of a document; the path as shown where it was not read from the disk."""
        return self.files.get(path, Path(path))

    def add(self, reading: Reading) -> None:
        path = reading.source.path
        self.readings[path], self.sources[path] = reading, reading.source
        self.documents.pop(path, None)
        self.modules.pop(path, None)
        if reading.module is not None:
            self.modules[path] = reading.module
        if reading.document is not None:
            self.documents[path] = reading.document
        self._forget()

    def remove(self, path: str) -> None:
        """Take out what was read from a file that is gone."""
        for each in (self.documents, self.modules, self.sources, self.readings, self.files):
            each.pop(path, None)
        self._forget()

    def read_waiting(self, wanted: Callable[[Claim], bool] = lambda claim: True) -> None:
        """Read those of the files only glanced at whose claim is wanted; all of them, if nothing is said."""
        for path in [p for p, claim in self.waiting.items() if wanted(claim)]:
            del self.waiting[path]
            assert self.fetch is not None
            self.add(self.fetch(path))

    def read_rivals(self) -> None:
        """Read every file that claims the number or id of one that is read already."""
        taken = {Claim(d.is_profile, fold(d.key)) for d in self.documents.values()}
        taken |= {Claim(False, m.key) for m in self.modules.values()}
        self.read_waiting(lambda claim: claim in taken)

    def _forget(self) -> None:
        self.__dict__.pop("_profiles", None)
        self.__dict__.pop("_numbers", None)

    @property
    def profiles(self) -> dict[str, Document]:
        """Profiles by folded id; of two with one id the first by path counts."""
        self.read_waiting(lambda claim: claim.profile)
        if "_profiles" not in self.__dict__:
            found: dict[str, Document] = {}
            for path in sorted(self.documents):
                document = self.documents[path]
                if isinstance(document.front, ProfileFront):
                    found.setdefault(fold(document.front.id), document)
            self.__dict__["_profiles"] = found
        return self.__dict__["_profiles"]  # type: ignore[no-any-return]

    def profile(self, id: str) -> Document | None:
        """The profile of an id; of files only glanced at none but that one is read."""
        self.read_waiting(lambda claim: claim == Claim(True, fold(id)))
        return self._first(True, id)

    def number(self, number: str) -> Document | None:
        """The procedure or pre-use check of a number; of files only glanced at none but that one is read."""
        self.read_waiting(lambda claim: claim == Claim(False, fold(number)))
        return self._first(False, number)

    def _first(self, profile: bool, key: str) -> Document | None:
        if not self.waiting:
            return (self.profiles if profile else self.numbers).get(fold(key))
        found = (p for p, d in self.documents.items() if d.is_profile is profile and fold(d.key) == fold(key))
        path = min(found, default=None)
        return None if path is None else self.documents[path]

    @property
    def numbers(self) -> dict[str, Document]:
        """Procedures and pre-use checks by folded number."""
        self.read_waiting(lambda claim: not claim.profile)
        if "_numbers" not in self.__dict__:
            found: dict[str, Document] = {}
            for path in sorted(self.documents):
                document = self.documents[path]
                if not isinstance(document.front, ProfileFront):
                    found.setdefault(fold(document.front.number), document)
            self.__dict__["_numbers"] = found
        return self.__dict__["_numbers"]  # type: ignore[no-any-return]

    def profile_of(self, document: Document) -> Document | None:
        """The profile a document stands on; a profile stands on itself."""
        if isinstance(document.front, ProfileFront):
            return document
        return self.profile(document.front.equipment)

    def broken_profile(self, id: str) -> str | None:
        """The path of a profile of that id which could not be read."""
        self.read_waiting(lambda claim: claim == Claim(True, fold(id)))
        return next(
            (
                path
                for path, reading in sorted(self.readings.items())
                if reading.claims is not None
                and reading.claims[0] == "equipment"
                and fold(reading.claims[1]) == fold(id)
            ),
            None,
        )
