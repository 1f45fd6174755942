"""The names that a profile gives and uses in its front matter, with their places."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from kilter.check.lookup import key_place
from kilter.model.document import Document
from kilter.source import Span

Kind = Literal[
    "step", "stage", "source", "guard", "zone", "switch", "test",
    "equipment", "number", "figure", "item", "tool", "part",
]  # fmt: skip

Named = tuple[Kind, str, Span, bool]
"""What it is, its name, where it stands, and whether the thing itself stands there."""


def named_in_profile(document: Document) -> Iterator[Named]:
    """Every name of a profile's lists and mappings."""
    front, places = document.profile, document.places
    keyed: tuple[tuple[Kind, str, tuple[str, ...]], ...] = (
        ("source", "sources", tuple(front.sources)),
        ("zone", "zones", tuple(front.zones)),
        ("switch", "switches", tuple(front.switches)),
    )
    for kind, key, names in keyed:
        yield from ((kind, name, places.key(key, name), True) for name in names)
    listed: tuple[tuple[Kind, str, tuple[str, ...]], ...] = (
        ("guard", "guards", front.guards),
        ("test", "before-service", front.before_service),
    )
    for kind, key, names in listed:
        yield from ((kind, name, key_place(places, key, n), True) for n, name in enumerate(names))
    for loc, names in _lists(document):
        yield from (("source", name, key_place(places, *loc, n), False) for n, name in enumerate(names))


def _lists(document: Document) -> Iterator[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Where the profile names sources to say what they have to do with another one."""
    for source, facts in document.profile.sources.items():
        yield ("sources", source, "fed-by"), facts.fed_by
        yield ("sources", source, "charged-by"), facts.charged_by
        yield ("sources", source, "needs", "releases"), facts.needs.releases
        yield ("sources", source, "needs", "restores"), facts.needs.restores
    for zone, reach in document.profile.zones.items():
        yield ("zones", zone), reach
