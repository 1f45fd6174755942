"""Fields that the analysis stands on, read from their text; None for what can't be read."""

from __future__ import annotations

import re
from dataclasses import dataclass

HANDS = ("away", "controls", "open", "probe", "inside", "live")
"""From what exposes nobody to what exposes most."""
AWAY, CONTROLS, OPEN, PROBE, INSIDE, LIVE = range(6)

SERVICE, TAGGED, FOUND = "service", "tagged", "found"
EXITS = {"returned to service": SERVICE, "left locked out, tagged": TAGGED, "left as found": FOUND}

FEWEST_WORDS = 4
"""A reason in fewer words says nothing that a reviewer could judge."""

_DASH = re.compile(r"\s+[-–—]\s+")


@dataclass(frozen=True, slots=True)
class Hands:
    """`:hands: level - reason`, or `:hands: live source, source - reason`."""

    level: int
    names: tuple[str, ...]
    """Sources that stay live on purpose."""
    reason: str


@dataclass(frozen=True, slots=True)
class Clear:
    """`:clear-of: source, source - what stands between`."""

    names: tuple[str, ...]
    reason: str


def parse_hands(text: str) -> Hands | None:
    """Level, sources and reason; only `live` takes sources, and it needs them and a reason."""
    head, reason = _split(text)
    word, _, rest = head.partition(" ")
    if word.casefold() not in HANDS:
        return None
    level, names = HANDS.index(word.casefold()), _names(rest)
    if level == LIVE and not (names and reason):
        return None
    return None if level != LIVE and names else Hands(level, names, reason)


def parse_clear(text: str) -> Clear | None:
    """Sources and what stands between them and the hands; both must be there."""
    head, reason = _split(text)
    names = _names(head)
    return Clear(names, reason) if names and reason else None


def parse_exit(text: str) -> str | None:
    """`service`, `tagged` or `found`."""
    return EXITS.get(" ".join(text.split()))


def is_short(reason: str) -> bool:
    """Whether a reason that was given has too few words."""
    return 0 < len(reason.split()) < FEWEST_WORDS


def _split(text: str) -> tuple[str, str]:
    head, *rest = _DASH.split(text.strip(), maxsplit=1)
    return head.strip(), rest[0].strip() if rest else ""


def _names(text: str) -> tuple[str, ...]:
    return tuple(word for part in text.split(",") if (word := part.strip()))
