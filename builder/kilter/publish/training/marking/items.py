"""The questions of a class, each with what its answers say; how much is said depends on how many there are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from kilter.publish.training.marking.issue import Asked
from kilter.publish.training.marking.marks import Mark
from kilter.publish.training.marking.statistics import (
    FLAG_R,
    RELIABILITY,
    SHOW_R,
    correlation,
    correlation_interval,
    kr20,
    wilson,
)


@dataclass(frozen=True)
class Item:
    """A fact asked about, over all classes whose papers were given."""

    fact: str
    hash: str
    ids: tuple[str, ...]
    safety: bool
    answers: int
    right: int
    interval: tuple[float, float]
    """Of the share right, 95 %."""
    wrong: tuple[tuple[str, int], ...]
    """Wrong choices by how often they were taken; also those that nobody took."""
    r: float | None
    """Against the share right of the rest of the paper; None below 20 answers or where nothing differs."""
    r_interval: tuple[float, float] | None
    flags: tuple[str, ...]
    """From 50 answers on."""

    @property
    def share(self) -> float:
        return self.right / self.answers


@dataclass
class _Tally:
    asked: Asked
    ids: set[str]
    right: list[int]
    rest: list[float]
    taken: Counter[str]
    offered: set[str]
    by_half: list[tuple[float, str]]


def items(marks: Sequence[Mark]) -> tuple[Item, ...]:
    """By fact; those of safety first, then the hardest."""
    tallies: dict[tuple[str, str], _Tally] = {}
    for each in marks:
        questions = each.sheet.paper.questions
        for n, question in enumerate(questions):
            tally = tallies.setdefault(question.pool, _Tally(question, set(), [], [], Counter(), set(), []))
            rest = (each.count - each.right[n]) / (each.of - 1) if each.of > 1 else 0.0
            given = each.sheet.answers[n]
            tally.ids.add(question.id)
            tally.right.append(int(each.right[n]))
            tally.rest.append(rest)
            tally.offered |= {c for i, c in enumerate(question.choices) if i != question.key}
            if given is not None and given != question.key:
                tally.taken[question.choices[given]] += 1
                tally.by_half.append((rest, question.choices[given]))
    found = (_item(key, tally) for key, tally in tallies.items())
    return tuple(sorted(found, key=lambda i: (not i.safety, i.share, i.fact)))


def _item(key: tuple[str, str], tally: _Tally) -> Item:
    n, right = len(tally.right), sum(tally.right)
    r = correlation(tally.right, tally.rest) if n >= SHOW_R else None
    wrong = sorted(((c, tally.taken[c]) for c in tally.offered), key=lambda w: (-w[1], w[0]))
    return Item(
        key[0],
        key[1],
        tuple(sorted(tally.ids)),
        tally.asked.safety,
        n,
        right,
        wilson(right, n),
        tuple(wrong),
        r,
        correlation_interval(r, n) if r is not None else None,
        tuple(_flags(tally, r)) if n >= FLAG_R else (),
    )


def _flags(tally: _Tally, r: float | None) -> list[str]:
    found = []
    if r is not None and r < 0:
        found.append("more often wrong among those who know the rest: look for a second right answer")
    middle = sorted(tally.rest)[len(tally.rest) // 2]
    for choice in sorted(tally.offered):
        above = sum(1 for rest, c in tally.by_half if c == choice and rest >= middle)
        below = tally.taken[choice] - above
        if tally.taken[choice] and above > below:
            found.append(f"“{choice}” is taken more by the better half")
        if not tally.taken[choice]:
            found.append(f"“{choice}” was taken by nobody: put another in its place")
    return found


def reliability(marks: Sequence[Mark]) -> dict[str, tuple[int, float | None]]:
    """People and KR-20 of each set of questions, from 30 people on; by the codes of its papers."""
    groups: dict[frozenset[str], list[Mark]] = {}
    for each in marks:
        groups.setdefault(frozenset(q.id for q in each.sheet.paper.questions), []).append(each)
    found = {}
    for ids, of_it in groups.items():
        if len(of_it) >= RELIABILITY:
            order = sorted(ids)
            rows = [
                [dict(zip((q.id for q in m.sheet.paper.questions), m.right, strict=True))[i] for i in order]
                for m in of_it
            ]
            codes = ", ".join(sorted({m.sheet.paper.code for m in of_it}))
            found[codes] = len(of_it), kr20(rows)
    return found
