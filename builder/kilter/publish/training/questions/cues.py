"""Wrong choices that tell nothing by their looks: how long they are, how much they share with the others.

Whoever takes the longest, the shortest, the middle or the most alike must not be right more often than by chance. So
all are put level in each of these; where they can't be, the place that the right one takes is drawn first, of those that
it can take, and the wrong ones are picked for it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from itertools import combinations
from typing import TypeVar

from kilter.publish.training.questions.draw import Draw, digest

T = TypeVar("T")
POOL = 12
"""Wrong choices that are tried against one another: of more, the first by their own lots."""
TELLING = 1000.0
"""Of a set that can't be offered: whatever is chosen, the right one stands out."""
LOTS = 60
"""A multiple of every number of places."""
Measure = Callable[[Sequence[str]], Sequence[float]]


def length(texts: Sequence[str]) -> Sequence[float]:
    return [len(t) for t in texts]


def shared(pieces: str) -> Measure:
    """What each has in common with the others, in pieces that a pattern finds."""

    def measure(texts: Sequence[str]) -> Sequence[float]:
        found = [Counter(re.findall(pieces, t)) for t in texts]
        return [sum((a & b).total() for m, b in enumerate(found) if m != n) for n, a in enumerate(found)]

    return measure


def echo(stem: str) -> Measure:
    """The share of each one's words that the question says, too."""
    asked = set(re.findall(r"\w+", stem.casefold()))

    def measure(texts: Sequence[str]) -> Sequence[float]:
        words = [re.findall(r"\w+", t.casefold()) for t in texts]
        return [sum(w in asked for w in each) / max(1, len(each)) for each in words]

    return measure


WORDS: tuple[Measure, ...] = (shared(r"\w+"), length)
PARTS: tuple[Measure, ...] = (shared(r"[^,]+"),)


def least_telling(
    draw: Draw,
    right: str,
    pool: Sequence[T],
    text: Callable[[T], str],
    count: int = 3,
    measures: Sequence[Measure] = WORDS,
) -> Iterator[tuple[T, ...]]:
    """Sets of `count` wrong choices, the least telling first; none where the right one would stand out from any."""
    lots = [draw.below(LOTS) for _ in measures]
    seed = draw.below(1 << 30)
    sets = list(combinations(pool[:POOL], count))
    if not sets:
        return
    texts = [[right, *map(text, chosen)] for chosen in sets]
    off = [0.0] * len(sets)
    for measure, lot in zip(measures, lots, strict=True):
        off = [
            a + b
            for a, b in zip(off, _off([measure(t) for t in texts], lot, measure is measures[0]), strict=True)
        ]
    order = sorted(range(len(sets)), key=lambda n: (off[n], digest(seed, *sorted(texts[n]))))
    yield from (sets[n] for n in order if off[n] < TELLING)


def _off(scores: Sequence[Sequence[float]], lot: int, strict: bool) -> list[float]:
    """How far each set is from the place that the right one is to take: by lot, of those that it can take.

    `strict`: where it can only stand out, there is no question. Of lengths that would be too many.
    """
    places = [place(s) for s in scores]
    level = [len(set(s)) == 1 for s in scores]
    last = len(scores[0]) - 1
    if any(level):
        return [0.0 if flat else 2 + 2 * abs(p - last / 2) for p, flat in zip(places, level, strict=True)]
    if strict and (min(places) > last - 1 or max(places) < 1):
        return [TELLING] * len(scores)
    whole = {p for p in places if p == int(p)}
    able = sorted(whole if len(whole) > 1 else set(places))
    return [abs(p - able[lot % len(able)]) for p in places]


def place(scores: Sequence[float]) -> float:
    """How many are above the first one; equal ones count half."""
    own, others = scores[0], scores[1:]
    return sum(s > own for s in others) + sum(s == own for s in others) / 2
