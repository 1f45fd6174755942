"""A sound equipment profile as cards show it, with the published documents for it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from kilter.model.document import Document
from kilter.model.front import ProfileFront
from kilter.publish.view import DocumentView, EnergyRow, equipment_address


@dataclass(frozen=True)
class MachineView:
    """What the cards of a machine are made from."""

    profile: Document
    hash: str
    """Content hash of the profile alone, 64 hex digits."""
    contact: str
    site_url: str
    views: tuple[DocumentView, ...] = ()
    """Its published documents, by number."""

    @property
    def front(self) -> ProfileFront:
        return self.profile.profile

    @property
    def number(self) -> str:
        return self.front.id

    @property
    def revision(self) -> str:
        """A profile has no revision of its own: its date stands for it; empty where it has none."""
        return self.front.date.isoformat() if self.front.date else ""

    @property
    def address(self) -> str:
        return equipment_address(self.front.id)

    @property
    def url(self) -> str:
        return f"{self.site_url.rstrip('/')}/{self.address}" if self.site_url else self.address

    @property
    def energy(self) -> tuple[EnergyRow, ...]:
        return tuple(EnergyRow(name, source) for name, source in self.front.sources.items())

    @cached_property
    def hash_with_documents(self) -> str:
        """Changes also when one of its documents does: for what is gathered from them."""
        lines = [self.hash, *(f"{v.number} {v.front.revision} {v.hash}" for v in self.views)]
        return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def machine_of(
    profile: Document, hash: str, contact: str, site_url: str, views: Iterable[DocumentView]
) -> MachineView:
    """The machine of a profile; of `views` it keeps its own."""
    own = tuple(v for v in views if v.equipment.id == profile.profile.id)
    return MachineView(profile, hash, contact, site_url, own)
