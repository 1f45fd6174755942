"""What work in one zone of a machine has to reach: its sources with all that keeps them alive, and its covers."""

from __future__ import annotations

from kilter.diagnostic import did_you_mean
from kilter.model.base import fold
from kilter.model.front import ProfileFront
from kilter.outcome import CouldNotRunError


def zone_named(profile: ProfileFront, wanted: str | None) -> str:
    """The zone as the profile writes it, empty for none. Raises CouldNotRunError for one that it has not."""
    name = " ".join((wanted or "").split())
    if not name:
        return ""
    found = next((z for z in profile.zones if fold(z) == fold(name)), None)
    if found is None:
        help = did_you_mean(name, profile.zones) if profile.zones else "the profile names no zones"
        raise CouldNotRunError(f"no zone `{name}` on {profile.id}; {help}")
    return found


def sources_of(profile: ProfileFront, zone: str) -> frozenset[str]:
    """Folded names of what the zone reaches, and of what feeds it or has to be held for it.

    A charger is none of these: what it charges stays live without it.
    Without a zone all sources: nobody has said what is out of reach.
    """
    if not zone:
        return frozenset(map(fold, profile.sources))
    by_name = {fold(name): source for name, source in profile.sources.items()}
    found, left = set[str](), [*(profile.zone(zone) or ())]
    while left:
        name = left.pop()
        if name in by_name and name not in found:
            found.add(name)
            source = by_name[name]
            left += map(fold, (*source.fed_by, *source.needs.releases))
    return frozenset(found)


def covers_of(profile: ProfileFront, zone: str) -> tuple[str, ...]:
    """The covers called after the zone, else those called after no other zone, else all.

    The profile does not say which cover closes which zone; names are all there is to go by, and a cover too
    many is only work.
    """
    own = tuple(g for g in profile.guards if _called_after(g, zone))
    others = [z for z in profile.zones if z != zone]
    free = tuple(g for g in profile.guards if not any(_called_after(g, z) for z in others))
    return (own or free or profile.guards) if zone else profile.guards


def _called_after(guard: str, zone: str) -> bool:
    return bool(zone) and f" {fold(zone)} " in f" {fold(guard)} "
