"""Friction as people write it: `K 0.2`, `K 0.15 to 0.25`, `µ 0.12`, `µ 0.10–0.16`, `zinc`, `lubricated`.

Words stand for a torque coefficient K, from Shigley's table 8-15; "dry" and "lubricated" reach as far as the K of a
published torque table (dry 0.20, lubricated 0.15), because the two disagree and neither is wrong.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Literal

from kilter.compute.fastener import FastenerError
from kilter.compute.fastener_preload import Drag, least_k, long_form, short_form
from kilter.compute.fastener_tables import Thread

_SHIGLEY = "Shigley, table 8-15"
_BOTH = "Shigley, table 8-15, and a published bolt torque table"
WORDS: dict[str, tuple[float, float, str]] = {
    "black": (0.30, 0.30, _SHIGLEY),
    "dry": (0.20, 0.30, _BOTH),
    "zinc": (0.20, 0.20, _SHIGLEY),
    "lubricated": (0.15, 0.18, _BOTH),
    "cadmium": (0.16, 0.16, _SHIGLEY),
    "anti-seize": (0.12, 0.12, _SHIGLEY),
}
_SAME = {
    "oiled": "lubricated", "oil": "lubricated", "greased": "lubricated", "grease": "lubricated", "lubed": "lubricated",
    "zinc plated": "zinc", "zinc-plated": "zinc", "galvanised": "zinc", "galvanized": "zinc", "as received": "black",
    "plain": "black", "cadmium plated": "cadmium", "antiseize": "anti-seize", "anti-seize paste": "anti-seize",
}  # fmt: skip
HIGHEST = 0.30
"""The highest K of those tables."""


@dataclass(frozen=True, slots=True)
class Friction:
    """A range of friction: of K, or of µ in the thread and under the head."""

    kind: Literal["K", "µ"]
    low: float
    high: float
    head_low: float
    head_high: float
    text: str
    source: str = ""
    assumed: bool = False
    """Whether nobody said it."""

    def drags(self, thread: Thread, bearing: float | None = None) -> tuple[Drag, Drag]:
        """Least and greatest drag; ValueError for a K lower than a screw without friction has."""
        if self.kind == "K":
            return short_form(thread, self.low, bearing), short_form(thread, self.high, bearing)
        return (
            long_form(thread, self.low, self.head_low, bearing),
            long_form(thread, self.high, self.head_high, bearing),
        )

    @property
    def is_single(self) -> bool:
        return self.low == self.high and self.head_low == self.head_high


ASSUMED = Friction("K", 0.15, 0.25, 0.15, 0.25, "K 0.15 to 0.25", "common practice, no source", True)
"""Where nobody said it."""

_NUMBER = r"[0-9]+(?:\.[0-9]+)?"
_FORM = re.compile(
    rf"(?P<kind>K|k|[µμ]|mu)?\s*=?\s*(?P<a>{_NUMBER})\s*(?:(?:to|[-–—−])\s*(?P<b>{_NUMBER})|(?:±|\+/-)\s*(?P<by>{_NUMBER}))?"
)
_HELP = "write `K 0.2`, `K 0.15 to 0.25`, `µ 0.12`, or one of: " + ", ".join(WORDS)
LIMITS = {"K": (0.03, 1.0), "µ": (0.02, 0.8)}
"""What no dry or greased screw lies beyond; common practice, no source: outside, it is a slip of the pen."""


def parse_friction(text: str, default: Literal["K", "µ"] = "K") -> Friction:
    """The friction that a text states; a bare number is a `default`. Raises FastenerError with the place."""
    word = " ".join(text.casefold().split())
    word = _SAME.get(word, word)
    if word in WORDS:
        low, high, source = WORDS[word]
        said = f"{word}: K {low:.2f}" + (f" to {high:.2f}" if high > low else "")
        return Friction("K", low, high, low, high, said, source)
    match = _FORM.fullmatch(text.strip()) if len(text) <= 80 else None
    if match is None:
        close = get_close_matches(word, [*WORDS, *_SAME], 1, 0.6) if len(text) <= 80 else []
        help = f"did you mean `{close[0]}`? {_HELP}" if close else _HELP
        raise FastenerError(
            f"`{text.strip()[:30]}` says no friction", help, 0, len(text), close[0] if close else ""
        )
    return _numbers(match, text, default)


def _numbers(match: re.Match[str], text: str, default: Literal["K", "µ"]) -> Friction:
    kind: Literal["K", "µ"] = default if not match["kind"] else ("K" if match["kind"] in "Kk" else "µ")
    low = high = float(match["a"])
    if match["b"]:
        high = float(match["b"])
    if match["by"]:
        low, high = low - float(match["by"]), high + float(match["by"])
    if low > high:
        raise FastenerError(
            "the range is the wrong way round", f"write `{kind} {high:g} to {low:g}`", 0, len(text)
        )
    least, most = LIMITS[kind]
    if not least <= low <= high <= most:
        help = f"{kind} lies between {least:g} and {most:g}; steel dry is near " + (
            "K 0.2" if kind == "K" else "µ 0.15"
        )
        raise FastenerError(f"`{text.strip()[:30]}` is no possible friction", help, 0, len(text))
    said = f"{kind} {low:g}" + (f" to {high:g}" if high > low else "")
    return Friction(kind, low, high, low, high, said)


def parse_pair(thread_text: str, head_text: str) -> Friction:
    """Friction in the thread and under the head, given apart, both as µ."""
    inner, outer = parse_friction(thread_text, "µ"), parse_friction(head_text, "µ")
    for text, one in ((thread_text, inner), (head_text, outer)):
        if one.kind != "µ":
            raise FastenerError(
                f"`{text[:30]}` is a K, µ is asked for", "write such as `µ 0.12`", 0, len(text)
            )
    said = f"{inner.text} in the thread, {outer.text} under the head"
    return Friction("µ", inner.low, inner.high, outer.low, outer.high, said)


def impossible(friction: Friction, thread: Thread) -> str:
    """Why a K can't be that of a thread; empty where it can."""
    least = least_k(thread)
    if friction.kind == "K" and friction.low < least:
        return f"K {friction.low:g} is below {least:.3f}, which {thread.name} has without any friction"
    return ""
