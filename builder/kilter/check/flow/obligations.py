"""What the hands of a step ask of a source: the table of the policy."""

from __future__ import annotations

from typing import NamedTuple

from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import INSIDE, LIVE, OPEN, PROBE
from kilter.check.flow.machine import D, Energy, I, L, Z

NONE, READ, DANGER = 0, 1, 2
"""Cautions: none asked, one of the profile's word, one fit for work on what is live (bits of a state)."""


class Asked(NamedTuple):
    """Level and caution that a step asks of a source."""

    level: int
    caution: int


NOTHING = Asked(L, NONE)


def by_hands(facts: Facts, energy: Energy) -> Asked:
    """As if nothing were explained away."""
    if facts.hands < OPEN or not facts.zone & energy.bit:
        return NOTHING
    if facts.hands == OPEN:
        if facts.isolates & energy.bit:
            return Asked(L, READ)
        return Asked(I if energy.stands_open else D, READ)
    if facts.hands == PROBE:
        if facts.handled & energy.bit:
            return Asked(L, READ)
        return Asked(I if energy.action else D, READ)
    assert facts.hands in (INSIDE, LIVE)
    return Asked(Z, READ)


def asked(facts: Facts, energy: Energy) -> Asked:
    """What must be true, with the exemptions."""
    if facts.clear & energy.bit:
        return NOTHING
    plain = by_hands(facts, energy)
    if facts.live & energy.bit and plain.caution:
        return Asked(L, DANGER)
    return plain


def exempted(facts: Facts, energy: Energy) -> Asked:
    """What an exemption spares; nothing where there is none."""
    if facts.clear & energy.bit:
        return by_hands(facts, energy)
    if facts.live & energy.bit:
        return Asked(by_hands(facts, energy).level, NONE)
    return NOTHING
