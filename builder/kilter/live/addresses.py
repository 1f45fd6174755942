"""Whose page stands at which address, also where the document can't be read at the moment."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kilter.model.document import Document
from kilter.publish.site import handbook
from kilter.publish.site.scope import Directory
from kilter.publish.view import address, equipment_address

if TYPE_CHECKING:
    from kilter.live.bench import Bench


class Addresses:
    """From addresses to files. A file that lost its number for a moment keeps its last address."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.fixed = frozenset(handbook.resolver(Directory({})).values()) | {handbook.LOST}
        """The pages that every site has."""
        self._last: dict[str, str] = {}
        self._now: tuple[int, dict[str, str]] = (-1, {})

    def owner(self, page: str) -> str:
        """The path of the file whose page this is; empty where there is none."""
        return self._table().get(page, "")

    def before(self, page: str) -> str:
        """The path of the file that had this page when it was last seen; it may be gone."""
        self._table()
        return self._last.get(page, "")

    def remember(self) -> None:
        """Note who has which page now, for when a file can't be read any more."""
        self._table()

    def of(self, path: str) -> str:
        """The page of a file; empty where it has none."""
        return next((page for page, owner in self._table().items() if owner == path), "")

    def _table(self) -> dict[str, str]:
        if self._now[0] != self.bench.generation:
            self._now = (self.bench.generation, self._made())
            self._last |= self._now[1]
        return self._now[1]

    def _made(self) -> dict[str, str]:
        found: dict[str, str] = {}
        readings = self.bench.workspace.library.readings
        nameless = set()
        for path in sorted(readings):
            document, claims = readings[path].document, readings[path].claims
            if document is not None:
                found.setdefault(page_of(document), path)
            elif claims is not None:
                kind, name = claims
                found.setdefault(equipment_address(name) if kind == "equipment" else address(name), path)
            else:
                nameless.add(path)
        for page, path in self._last.items():
            if path in nameless:
                found.setdefault(page, path)
        return found


def number_of(document: Document) -> str:
    """A document's number as written; of a profile its id."""
    front = document.front
    return str(getattr(front, "number", None) or getattr(front, "id", ""))


def page_of(document: Document) -> str:
    """The address of a document's or a machine's page."""
    return equipment_address(document.profile.id) if document.is_profile else address(number_of(document))
