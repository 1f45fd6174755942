"""All documents of one library."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.model.reading import Reading
from kilter.source import Source


@dataclass(frozen=True)
class Settings:
    """What the library's `mkdocs.yml` says to Kilter; every value has a default."""

    name: str = "Repair procedures"
    contact: str = ""
    """Whom to call about a machine that is left tagged."""
    site_url: str = ""
    hold_words: tuple[str, ...] = ()
    """Further words for how a source is held, besides the built-in ones."""


@dataclass
class Library:
    """Documents by their path, with the look-ups that the checks need."""

    root: Path
    documents: dict[str, Document] = field(default_factory=dict)
    sources: dict[str, Source] = field(default_factory=dict)
    readings: dict[str, Reading] = field(default_factory=dict)
    settings: Settings = Settings()
    files: dict[str, Path] = field(default_factory=dict)
    """Where each document stands on the disk, by its path as shown."""

    def file_of(self, path: str) -> Path:
        """The file of a document; the path as shown where it was not read from the disk."""
        return self.files.get(path, Path(path))

    def add(self, reading: Reading) -> None:
        path = reading.source.path
        self.readings[path], self.sources[path] = reading, reading.source
        self.documents.pop(path, None)
        if reading.document is not None:
            self.documents[path] = reading.document
        self._forget()

    def remove(self, path: str) -> None:
        """Take out what was read from a file that is gone."""
        for each in (self.documents, self.sources, self.readings, self.files):
            each.pop(path, None)
        self._forget()

    def _forget(self) -> None:
        self.__dict__.pop("_profiles", None)
        self.__dict__.pop("_numbers", None)

    @property
    def profiles(self) -> dict[str, Document]:
        """Profiles by folded id; of two with one id the first by path counts."""
        if "_profiles" not in self.__dict__:
            found: dict[str, Document] = {}
            for path in sorted(self.documents):
                document = self.documents[path]
                if isinstance(document.front, ProfileFront):
                    found.setdefault(fold(document.front.id), document)
            self.__dict__["_profiles"] = found
        return self.__dict__["_profiles"]  # type: ignore[no-any-return]

    @property
    def numbers(self) -> dict[str, Document]:
        """Procedures and pre-use checks by folded number."""
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
        return self.profiles.get(fold(document.front.equipment))

    def broken_profile(self, id: str) -> str | None:
        """The path of a profile of that id which could not be read."""
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
