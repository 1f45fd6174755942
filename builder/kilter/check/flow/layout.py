"""Where what is kept of a source stands in the bits of a state."""

from __future__ import annotations

from kilter.check.flow.machine import Energy, Machine, bits


class Layout:
    """Where what is kept of a source stands in the bits of a state.

    From the lowest: level (2), our hold (1), one bit a feed that is live, cautions in force of the document
    (2) and of each open frame, the innermost first (2 each: stage and calls), seconds waited (the rest).
    """

    __slots__ = ("energy", "feeds", "filled", "frames", "live_mask", "slice", "stack_mask", "waited")

    def __init__(self, machine: Machine, energy: Energy, depth: int) -> None:
        self.energy = energy
        self.feeds = _feeds_first(machine, energy)
        self.slice = energy.bit | energy.above
        self.live_mask = (1 << len(self.feeds)) - 1
        self.frames = 3 + len(self.feeds)
        self.waited = self.frames + 2 * (depth + 2)
        self.stack_mask = (1 << 2 * (depth + 1)) - 1
        self.filled = self.stack_mask << 2
        """Cautions of every kind in every frame but the document's."""


def _feeds_first(machine: Machine, energy: Energy) -> tuple[Energy, ...]:
    """All that feeds a source, each after its own feeds (a ring in any order)."""
    above = [machine.energies[n] for n in bits(energy.above)]
    return tuple(sorted(above, key=lambda e: (e.above.bit_count(), e.at)))
