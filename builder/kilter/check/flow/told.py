"""What pages and cards need of an analysis, small enough to be handed from one process to another."""

from __future__ import annotations

from dataclasses import dataclass, field

from kilter.check.flow.analysis import Analysis


@dataclass(frozen=True, slots=True)
class Told:
    """The same questions as `Analysis`, already answered for every step, by step key."""

    hands: dict[str, str] = field(default_factory=dict)
    strips: dict[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)
    holds: dict[str, tuple[str, ...]] = field(default_factory=dict)
    """For steps that end the procedure only, as the next two."""
    off: dict[str, tuple[str, ...]] = field(default_factory=dict)
    failed: dict[str, bool] = field(default_factory=dict)

    def strip(self, step: str) -> tuple[tuple[str, str], ...]:
        return self.strips.get(step, ())

    def held(self, step: str) -> tuple[str, ...]:
        return self.holds.get(step, ())

    def guards_off(self, step: str) -> tuple[str, ...]:
        return self.off.get(step, ())

    def proof_failed(self, step: str) -> bool:
        return self.failed.get(step, False)


def told(analysis: Analysis) -> Told:
    """Ask everything once."""
    ends = {node.key for node in analysis.nodes if node.exit}
    return Told(
        hands=dict(analysis.hands),
        strips={key: analysis.strip(key) for key in analysis.hands},
        holds={key: analysis.held(key) for key in ends},
        off={key: analysis.guards_off(key) for key in ends},
        failed={key: analysis.proof_failed(key) for key in ends},
    )
