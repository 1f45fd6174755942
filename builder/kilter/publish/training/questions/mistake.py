"""Which reading fails, and which one passes: nothing near a limit is ever shown."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kilter.model.base import fold
from kilter.publish.training.questions.draw import Draw, digest
from kilter.publish.training.questions.model import Choice, Question
from kilter.publish.training.questions.numbers import CHOICES, written
from kilter.publish.training.questions.subject import Subject, placed
from kilter.publish.training.questions.valuefacts import ValueFact, value_facts

OUTSIDE, INSIDE = Fraction(5, 100), Fraction(1, 10)
"""Of the limit beyond it; of the width within it: more than a workshop's meter is ever off."""


WIDE = Fraction(14, 10)
"""Times a lower limit: farther above it nobody would believe a reading."""


def mistake_questions(subject: Subject, variants: int) -> Iterator[Question]:
    """One reading of four that fails; each of the four is of another quantity, so that size tells nothing."""
    facts = [f for f in value_facts(subject) if f.role.name == "read" and f.name]
    for fact in facts:
        for serial in range(variants):
            question = _question(subject, fact, facts, serial)
            if question is not None:
                yield question


def _question(subject: Subject, fact: ValueFact, facts: list[ValueFact], serial: int) -> Question | None:
    draw = subject.draw(fact.id, fact.canonical, "mistake", serial)
    names, others = {fold(fact.name)}, list[ValueFact]()
    for other in sorted(facts, key=lambda f: digest(fact.id, serial, f.id)):
        if fold(other.name) not in names:
            names.add(fold(other.name))
            others.append(other)
    fails = beyond(fact, draw)
    passing = [(o, inside(o, draw)) for o in others]
    good = [(o, reading) for o, reading in passing if reading is not None][: CHOICES - 1]
    if fails is None or len(good) < CHOICES - 1:
        return None
    right = Choice(_said(fact, fails), f"The limit in step {fact.asked.cite.number} is {fact.text}.")
    wrong = [
        Choice(_said(o, reading), f"Inside: the limit in step {o.asked.cite.number} is {o.text}.")
        for o, reading in good
    ]
    choices, key = placed(draw, right, wrong, subject.turn(fact.id, "mistake", serial))
    safety = any(r.name == "proves" for r in fact.asked.covered.step.roles)
    stem = f"{subject.number}: four readings were written down. Which one is outside its limit?"
    return subject.question("mistake", fact.asked, fact.id, serial, stem, choices, key, safety=safety)


def _said(fact: ValueFact, reading: str) -> str:
    return f"{fact.name}: {reading}"


def beyond(fact: ValueFact, draw: Draw) -> str | None:
    """A reading that fails for certain, as it would be written down."""
    q = fact.quantity
    places = [
        *([Fraction(q.high) + abs(Fraction(q.high)) * OUTSIDE * n for n in range(5)] if q.high is not None else []),
        *([Fraction(q.low) - abs(Fraction(q.low)) * OUTSIDE * n for n in range(5)] if q.low is not None else []),
    ]  # fmt: skip
    good = [r for p in places if (r := _rounded(fact, p)) is not None and fails(fact, r)]
    return _text(fact, draw.one(good)) if good else None


def inside(fact: ValueFact, draw: Draw) -> str | None:
    """A reading that passes for certain."""
    q = fact.quantity
    low = Fraction(q.low) if q.low is not None else None
    high = Fraction(q.high) if q.high is not None else None
    if low is None:
        assert high is not None
        low = Fraction(0) if high > 0 else high * 2
    elif high is None:
        high = low * WIDE if low > 0 else Fraction(0)
    assert high is not None
    places = [low + (high - low) * n / 20 for n in range(21)]
    good = [r for p in places if (r := _rounded(fact, p)) is not None and passes(fact, r)]
    return _text(fact, draw.one(good)) if good else None


def fails(fact: ValueFact, reading: Fraction) -> bool:
    """Whether a reading is beyond a limit by more than any meter is off."""
    q = fact.quantity
    over = q.high is not None and reading >= Fraction(q.high) + abs(Fraction(q.high)) * OUTSIDE
    under = q.low is not None and reading <= Fraction(q.low) - abs(Fraction(q.low)) * OUTSIDE
    return (over or under) and (reading >= 0 or (q.low or q.high or 0) < 0)


def passes(fact: ValueFact, reading: Fraction) -> bool:
    """Whether a reading is inside by a tenth of the width, of a single limit by a tenth of its value."""
    q = fact.quantity
    if q.low is not None and q.high is not None:
        guard = (Fraction(q.high) - Fraction(q.low)) * INSIDE
    else:
        limit = q.low if q.low is not None else q.high
        assert limit is not None
        guard = abs(Fraction(limit)) * INSIDE
    over = q.high is not None and reading > Fraction(q.high) - guard
    under = q.low is not None and reading < Fraction(q.low) + guard
    return not over and not under


def _decimals(fact: ValueFact) -> int:
    """One more than the limit has where the limit is small in its last digit: a meter shows more."""
    decimals = fact.shown.decimals
    size = max(abs(Fraction(x)) for x in (fact.quantity.low, fact.quantity.high) if x is not None)
    return decimals + 1 if size * 10**decimals < 20 else decimals


def _rounded(fact: ValueFact, reading: Fraction) -> Fraction | None:
    step = Fraction(1, 10 ** _decimals(fact))
    return round(reading / step) * step


def _text(fact: ValueFact, reading: Fraction) -> str:
    unit = fact.quantity.unit.symbol
    tied = "" if unit in ("°", "%") else "\u00a0"
    return f"{written(reading, _decimals(fact))}{tied}{unit}"
