"""What the analysis needs to know of a machine, as small integers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from kilter.compute.duration import seconds
from kilter.model.base import fold
from kilter.model.front import EnergySource, ProfileFront

L, I, D, Z = range(4)  # noqa: E741
"""Live, isolated but still charged, dissipated, proved zero."""

RANKS = {"notice": 1, "caution": 2, "warning": 3, "danger": 4}


def bits(mask: int) -> Iterator[int]:
    """Positions of the ones in a mask, lowest first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


@dataclass(frozen=True, slots=True)
class Energy:
    """One source of energy; masks hold one bit a source, in the profile's order."""

    name: str
    at: int
    kind: str
    feeds: int
    above: int
    """Everything that feeds it, also through others."""
    below: int
    """Everything it feeds, also through others."""
    landing: int
    """What it falls to once cut off: I where it must be released or drain, else D."""
    entry: int
    """What it is when work begins: L, or the landing level of what can't be cut off."""
    action: bool
    """Released by doing something; waiting does not help."""
    stands_open: bool
    """Can only be released from inside, so a cover may come off before that."""
    bleed: int | None
    """Seconds to drain; None where waiting does not help or the time can't be read."""
    reaccumulates: bool
    counts: int | None
    """Seconds of waiting after which its proof no longer counts."""
    need: int
    """Rank of the mildest caution that will do."""
    live_need: int
    """The same for work on it while live."""
    own: bool
    """Has a way of its own to be cut off."""
    lockable: bool
    release_held: int
    """Sources that must be held before this one is released."""
    restore_live: int
    """Sources that must be live again before this one is restored."""

    @property
    def bit(self) -> int:
        return 1 << self.at

    def word(self, level: int) -> str:
        """The state in readers' words."""
        if level == D:
            if self.landing == I:
                return "released, not yet proved"
            return "isolated" if self.entry == L else "never cut off"
        return ("live", "isolated, still charged", "", "proved zero")[level]


class Machine:
    """The sources, guards and tests of a profile by number."""

    __slots__ = ("all", "energies", "front", "guards", "index", "outside_prove", "outside_release", "tests")

    def __init__(self, front: ProfileFront) -> None:
        self.front = front
        self.index = {fold(name): n for n, name in enumerate(front.sources)}
        self.all = (1 << len(self.index)) - 1
        self.guards = {fold(name): n for n, name in enumerate(front.guards)}
        self.tests = {fold(name): n for n, name in enumerate(front.before_service)}
        sources = list(front.sources.values())
        self.outside_release = self._those(s.release_from == "outside" for s in sources)
        self.outside_prove = self._those(s.prove_from == "outside" for s in sources)
        feeds = [self.mask(s.fed_by) & ~(1 << n) for n, s in enumerate(sources)]
        above = [_closure(feeds, n) for n in range(len(feeds))]
        self.energies = tuple(
            self._energy(n, name, source, feeds[n], above)
            for n, (name, source) in enumerate(front.sources.items())
        )

    def mask(self, names: Iterable[str]) -> int:
        """Bits of the names that are sources; unknown names count for nothing."""
        found = 0
        for name in names:
            if (at := self.index.get(fold(name))) is not None:
                found |= 1 << at
        return found

    def zone(self, name: str) -> int | None:
        """Sources in reach of a zone; None for an unknown one."""
        reach = self.front.zone(name)
        return None if reach is None else self.mask(reach)

    def names(self, mask: int) -> tuple[str, ...]:
        return tuple(self.energies[n].name for n in bits(mask))

    def guard_names(self, mask: int) -> tuple[str, ...]:
        return tuple(self.front.guards[n] for n in bits(mask))

    def _those(self, flags: Iterable[bool]) -> int:
        return sum(1 << n for n, flag in enumerate(flags) if flag)

    def _energy(self, at: int, name: str, source: EnergySource, feeds: int, above: list[int]) -> Energy:
        stored = source.release is not None or source.bleed is not None
        action = source.release == "action"
        landing = I if stored else D
        need = RANKS[source.word]
        return Energy(
            name=name,
            at=at,
            kind=source.kind,
            feeds=feeds,
            above=above[at],
            below=sum(1 << n for n, mask in enumerate(above) if n != at and mask >> at & 1),
            landing=landing,
            entry=L if source.can_be_cut else landing,
            action=action,
            stands_open=action and source.release_from == "inside",
            bleed=None if action or source.bleed is None else seconds(source.bleed),
            reaccumulates=bool(source.reaccumulates),
            counts=seconds(source.reaccumulates) if isinstance(source.reaccumulates, str) else None,
            need=need,
            live_need=RANKS["warning"] if need == RANKS["caution"] else RANKS["danger"],
            own=source.lockable or source.isolate is not None or not source.fed_by,
            lockable=source.lockable,
            release_held=self.mask(source.needs.releases),
            restore_live=self.mask(source.needs.restores),
        )


def _closure(feeds: list[int], at: int) -> int:
    """All that feeds a source, itself left out; a ring of feeds ends the walk."""
    found, queue = 0, [at]
    for n in queue:
        for feed in bits(feeds[n] & ~found):
            found |= 1 << feed
            queue.append(feed)
    return found & ~(1 << at)
