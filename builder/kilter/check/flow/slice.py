"""One source at one moment, and what every effect does to it, in the order of the policy."""

from __future__ import annotations

from kilter.check.flow.explore import Mark
from kilter.check.flow.fields import FOUND, SERVICE, TAGGED
from kilter.check.flow.layout import Layout
from kilter.check.flow.machine import D, Energy, I, L, Z
from kilter.check.flow.marks import M
from kilter.check.flow.obligations import READ


class Moment:
    """An unpacked state."""

    __slots__ = ("energy", "frames", "hold", "layout", "level", "live", "met", "recover", "waited")

    def __init__(self, layout: Layout, state: int, recover: bool = False) -> None:
        self.layout, self.energy, self.recover = layout, layout.energy, recover
        self.level = state & 3
        self.hold = state >> 2 & 1
        self.live = state >> 3 & layout.live_mask
        """Feeds that are live, by their place in the layout."""
        self.frames = state >> layout.frames & (1 << layout.waited - layout.frames) - 1
        self.waited = state >> layout.waited
        self.met: list[Mark] = []

    def packed(self) -> int:
        layout = self.layout
        return (
            self.level
            | self.hold << 2
            | self.live << 3
            | self.frames << layout.frames
            | self.waited << layout.waited
        )

    @property
    def in_force(self) -> int:
        """READ and DANGER bits of all frames together."""
        found, frames = 0, self.frames
        while frames:
            found |= frames & 3
            frames >>= 2
        return found

    # Hands and cautions

    def read(self, panels: int) -> None:
        self.frames |= panels << 2

    def expose(self, level: int, caution: int, level_spared: int, caution_spared: int) -> None:
        """What hands ask before the step; and whether an exemption spares anything."""
        if not (level | caution | level_spared | caution_spared):
            return
        read = self.in_force
        if self.level < level_spared or caution_spared & ~read:
            self.met.append((M.NEEDED, 0))
        if caution & ~read:
            self.met.append((M.CAUTION if caution == READ else M.DANGER, read))
            if self.recover:
                self.frames |= self.layout.filled
        if self.level < level:
            self.met.append((M.LEVEL, self.level))
            self._mend(level)

    def expose_after(self, level: int, level_spared: int) -> None:
        """The same once the step itself has loaded or restored something."""
        if self.level < level:
            self.met.append((M.AFTER, self.level))
        if self.level < level_spared:
            self.met.append((M.NEEDED, 0))

    def _mend(self, wanted: int) -> None:
        """As if the wanted level had been reached in the way it must be."""
        if self.recover:
            if self.level == L and self.energy.own:
                self.hold = 1
            self.level = wanted

    # Effects

    def run(self) -> None:
        if self.level != L:
            self.met.append((M.RUNS, self.level))
            if self.recover:
                self.level, self.hold, self.waited, self.live = L, 0, 0, self.layout.live_mask

    def isolate(self, sources: int) -> None:
        for n, feed in enumerate(self.layout.feeds):
            if sources & feed.bit:
                self.live &= ~(1 << n)
        if sources & self.energy.bit:
            self.level, self.hold = max(self.level, self.energy.landing), 1

    def fall(self) -> None:
        """What has lost all its feeds falls to its landing level, feeds before what they feed."""
        for n, feed in enumerate(self.layout.feeds):
            if self.live >> n & 1 and feed.feeds and not self._fed(feed):
                self.live &= ~(1 << n)
        if self.level == L and self.energy.feeds and not self._fed(self.energy):
            self.level, self.waited = self.energy.landing, 0

    def _fed(self, energy: Energy) -> bool:
        """Whether any direct feed is live."""
        return any(self.live >> n & 1 and energy.feeds & f.bit for n, f in enumerate(self.layout.feeds))

    def wait(self, least: int, most: int) -> None:
        """Draining counts the shortest time, building up again the longest, also what is left after draining."""
        energy = self.energy
        if self.level == I:
            if energy.bleed is None:
                return
            most -= energy.bleed - self.waited
            self.waited += least
            if self.waited < energy.bleed:
                return
            self.level, self.waited = D, 0
        if energy.counts is not None and self.level > energy.landing:
            self.waited += most
            if self.waited > energy.counts:
                self.level, self.waited = energy.landing, 0

    def held_for(self, others: int) -> None:
        if not self.hold:
            self.met.append((M.RELEASE_ORDER, others))
            if self.recover:
                self.hold, self.level = 1, max(self.level, self.energy.landing)

    def release(self) -> None:
        """To dissipated, also from proved: it was worked on, so it is proved again."""
        if self.level < I:
            self.met.append((M.RELEASE, self.level))
            self._mend(I)
        if self.level >= I:
            self.waited = self.waited if self.level > I else 0
            self.level = D

    def prove(self) -> None:
        if self.level < D:
            self.met.append((M.PROVE, self.level))
            self._mend(D)
        if self.level >= D:
            self.level = Z

    def live_for(self, others: int) -> None:
        if self.level != L:
            self.met.append((M.RESTORE_ORDER, others))
            if self.recover:
                self.level, self.hold, self.waited = L, 0, 0

    def restore(self, sources: int, twice: bool) -> None:
        """The source itself or a feed is put back: it is live, and its cautions must be said again."""
        if sources & self.energy.bit:
            if twice or not self.hold:
                self.met.append((M.RESTORE_HOLD, self.level))
            self.hold = 0
        self._charge(sources)
        self.level, self.waited, self.frames = L, 0, 0

    def _charge(self, sources: int) -> bool:
        """Feeds among the sources, and those fed by them, are live; whether there was one."""
        live = 0
        for n, feed in enumerate(self.layout.feeds):
            if sources & (feed.bit | feed.above):
                live |= 1 << n
        self.live |= live
        return bool(live)

    def _spread(self, feeds: int) -> None:
        """These have become live, or were charged again: so is all that they feed."""
        if self._charge(feeds):
            self.level, self.waited = L, 0

    def load(self, sources: int) -> None:
        self._spread(sum(f.bit for f in self.layout.feeds if sources & f.bit and f.entry == L))
        if sources & self.energy.bit:
            self.level, self.waited = self.energy.entry, 0

    def leave(self, way: str) -> None:
        if way == TAGGED:
            if self.energy.lockable and not self.hold:
                self.met.append((M.TAGGED_NOT_HELD, self.level))
        elif self.hold:
            self.met.append((M.SERVICE_HELD if way == SERVICE else M.FOUND_HELD, self.level))
            assert way in (SERVICE, FOUND)

    # Ways on

    def fail(self, failed: int, undone: int, before: Moment) -> None:
        """A proof failed: the source is live again; of the step's other sources the worse of before and after."""
        if undone & self.energy.bit and (before.level, before.waited) <= (self.level, self.waited):
            self.level, self.waited = before.level, before.waited
        mask = 0
        for n, feed in enumerate(self.layout.feeds):
            if undone & feed.bit and (before.live | self.live) >> n & 1:
                mask |= feed.bit
        self._spread(mask)
        for n, feed in enumerate(self.layout.feeds):
            if failed & feed.bit:
                self.live &= ~(1 << n)
                self._spread(feed.bit if self._fails_to(feed) == L else 0)
        if failed & self.energy.bit:
            self.level, self.waited = self._fails_to(self.energy), 0

    def _fails_to(self, energy: Energy) -> int:
        if energy.entry != L or (energy.feeds and not self._fed(energy)):
            return energy.landing
        return L

    def enter_stage(self, panels: int) -> None:
        """The stage's cautions take the place of the last one's; what builds up again has done so."""
        self.frames = self.frames & 3 | panels << 2
        if self.energy.reaccumulates:
            self.level, self.waited = min(self.level, self.energy.landing), 0

    def call(self, panels: int) -> None:
        """The caller's cautions hold inside; the shared stage's own are added."""
        stack = (self.frames >> 2 << 2 | panels) & self.layout.stack_mask
        self.frames = self.frames & 3 | stack << 2

    def back(self, calls: int) -> None:
        """So many calls end, and with them the cautions read in them."""
        self.frames = self.frames & 3 | self.frames >> 2 + 2 * calls << 2
