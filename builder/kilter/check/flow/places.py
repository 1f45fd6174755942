"""What a stage says for all its steps: hands, reach, exemptions, cautions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kilter.check.flow.fields import Clear, Hands, parse_clear, parse_hands
from kilter.check.flow.machine import Machine
from kilter.model.document import Document, Field, Stage
from kilter.model.text import Panel


@dataclass(frozen=True, slots=True)
class Exemption:
    """A source that is explained away, and where."""

    mask: int
    names: tuple[str, ...]
    reason: str
    field: Field


@dataclass(frozen=True, slots=True)
class Place:
    """What a stage says for all its steps."""

    stage: Stage
    document: Document
    in_profile: bool
    hands: Hands | None
    hands_field: Field | None
    zone: int
    clear: tuple[Exemption, ...]
    panels: tuple[tuple[int, Panel], ...]
    """Sources and panel, for those panels that name one."""


def place_of(machine: Machine, document: Document, stage: Stage, in_profile: bool) -> Place:
    """The stage's fields and panels, read."""
    hands_field, zone_field = stage.field("hands"), stage.field("zone")
    hands = parse_hands(hands_field.value) if hands_field else None
    return Place(
        stage=stage,
        document=document,
        in_profile=in_profile,
        hands=hands,
        hands_field=hands_field if hands else None,
        zone=zone_of(machine, zone_field),
        clear=exemptions_of(machine, stage.fields),
        panels=panels_of(machine, stage.panels),
    )


def panels_of(machine: Machine, panels: Iterable[Panel]) -> tuple[tuple[int, Panel], ...]:
    """Panels that name sources, with the sources' bits."""
    return tuple((mask, p) for p in panels if p.sources and (mask := machine.mask(n.text for n in p.sources)))


def exemptions_of(machine: Machine, fields: Iterable[Field]) -> tuple[Exemption, ...]:
    """The `:clear-of:` fields that can be read."""
    found = []
    for each in fields:
        if each.name == "clear-of" and isinstance(parsed := parse_clear(each.value), Clear):
            found.append(Exemption(machine.mask(parsed.names), parsed.names, parsed.reason, each))
    return tuple(found)


def zone_of(machine: Machine, field: Field | None) -> int:
    """Sources in reach; without a zone, or with one that is not known, all of them."""
    found = machine.zone(field.value) if field else None
    return machine.all if found is None else found
