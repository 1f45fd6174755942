"""The equipment of a profile as the abstract case has it: sources, zones, guards, times."""

from __future__ import annotations

import re

from kilter.model.base import fold
from kilter.model.front import EnergySource, ProfileFront

from .spec import Profile, Source

_UNITS = {"s": 1, "min": 60, "h": 3600}
_TIME = re.compile(r"(?:≥\s*)?(\d+)(?:\s*[-–]\s*(\d+))?\s*(s|min|h)")


class Unreadable(Exception):
    """Something that the abstract case has no room for; the oracle gives no verdict."""


def profile_of(front: ProfileFront) -> Profile:
    zones = tuple((fold(z), sources_of(front, reach)) for z, reach in front.zones.items())
    sources = tuple(_source(front, name, s) for name, s in front.sources.items())
    return Profile(sources, tuple(map(fold, front.guards)), zones, tuple(map(fold, front.before_service)))


def _source(front: ProfileFront, name: str, s: EnergySource) -> Source:
    again: bool | int = seconds(s.reaccumulates)[0] if isinstance(s.reaccumulates, str) else s.reaccumulates
    return Source(
        fold(name),
        s.kind,
        s.word,
        s.lockable,
        s.isolate is not None or s.lockable,
        sources_of(front, s.fed_by),
        sources_of(front, s.charged_by),
        s.release or "none",
        s.release_from,
        s.prove_from,
        seconds(s.bleed)[0] if s.bleed else 0,
        again,
        sources_of(front, s.needs.releases),
        sources_of(front, s.needs.restores),
    )


def sources_of(front: ProfileFront, names: tuple[str, ...]) -> tuple[str, ...]:
    """The names that are sources, folded."""
    return tuple(fold(name) for name in names if front.source_name(name))


def seconds(text: str) -> tuple[int, int]:
    """Shortest and longest time; the longest is 0 where only one is written."""
    found = _TIME.fullmatch(" ".join(text.split()))
    if found is None:
        raise Unreadable(f"no time: {text}")
    low, high, unit = found.groups()
    return int(low) * _UNITS[unit], int(high or 0) * _UNITS[unit]
