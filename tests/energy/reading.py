"""What the parts of the oracle share: the switches of the numbered choices and the shape of a verdict."""

from __future__ import annotations

from dataclasses import dataclass

Violation = tuple[str, str, str | None]
"""(step slug, kind, source, guard or test name)"""
Position = tuple[tuple[int, ...], int]
"""(steps that asked for the shared stages we are in, step)"""
MOST = 200_000
"""States after which the oracle gives no verdict."""


class TooLarge(Exception):
    """More states than the oracle is willing to visit: no verdict."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Switches of the numbered choices in `oracle.py`; the default is the safest reading."""

    rework: bool = True
    bleed_by_hand: bool = True
    spread: bool = True
    others_acted: bool = True
    store_cautions_die: bool = True
    step_panel_stays: bool = True
    block_panels_stay: bool = False
    excess: bool = True
    upper_end: bool = True
    not_ok_clears: bool = True
    probe_narrow: bool = True


SAFEST = Reading()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a full walk found."""

    core: frozenset[Violation]
    honesty: frozenset[Violation]
    states: int
