"""Which value does the step give: torques, settings, waits, limits of readings."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kilter.compute.units import UNITS
from kilter.publish.training.questions.model import Choice, Question
from kilter.publish.training.questions.numbers import CHOICES, choices_for
from kilter.publish.training.questions.subject import Subject
from kilter.publish.training.questions.valuefacts import ValueFact, value_facts

_ASKED = {"torque": "Which torque is it?", "set": "Which value is it?", "wait": "How long is it, at least?"}
_LIMITS = {
    "at-least": "What is the lowest reading allowed?",
    "above": "Above which value must the reading be?",
    "at-most": "What is the highest reading allowed?",
    "below": "Below which value must the reading be?",
}


def value_questions(subject: Subject, variants: int) -> Iterator[Question]:
    """Up to `variants` questions for each value; fewer where its wrong values can't be proved."""
    facts = value_facts(subject)
    for fact in facts:
        # where the right one stands among the four is set by the fact, then goes round: never by what succeeds
        first = subject.draw(fact.id, fact.canonical, "rank", 0).below(CHOICES)
        for serial in range(variants):
            question = _question(subject, fact, facts, (first + serial) % CHOICES, serial)
            if question is not None:
                yield question


def _question(
    subject: Subject, fact: ValueFact, facts: list[ValueFact], rank: int, serial: int
) -> Question | None:
    draw = subject.draw(fact.id, fact.canonical, "value", serial)
    others: dict[Fraction, str] = {}
    for point, why in _likely(fact, facts):
        others.setdefault(point, why)
    made = choices_for(fact.shown, others, draw, rank, draw.below(CHOICES))
    if made is None:
        return None
    points, decimals = made
    right = Fraction(fact.shown.point)
    choices = [
        Choice(
            fact.shown.text(p, decimals),
            f"Given in step {fact.asked.cite.number}: {fact.text}."
            if p == right
            else others.get(p, f"The step gives {fact.text}."),
        )
        for p in points
    ]
    safety = any(r.name == "proves" for r in fact.asked.covered.step.roles)
    return subject.question(
        "value", fact.asked, fact.id, serial, stem_of(fact), choices, points.index(right), safety=safety, ranked=True
    )  # fmt: skip


def stem_of(fact: ValueFact) -> str:
    """What is asked."""
    if fact.role.name != "read":
        return f"{fact.asked.name}: “{fact.sentence}” {_ASKED[fact.role.name]}"
    asks = _LIMITS.get(fact.quantity.form, "Between which limits must the reading be?")
    about = f"The reading is “{fact.name}”." if fact.name else f"“{fact.sentence}”"
    return f"{fact.asked.name}. {about} {asks}"


def _likely(fact: ValueFact, facts: list[ValueFact]) -> Iterator[tuple[Fraction, str]]:
    """Mistakes that people make with this value, in its unit, and what is said to them."""
    unit, right = fact.quantity.unit, Fraction(fact.shown.point)
    for other in facts:
        if other is not fact and other.quantity.dimension == fact.quantity.dimension:
            said = f"{other.text} is for step {other.asked.cite.number} “{other.asked.cite.title}”."
            yield unit.from_base(other.point), said
    if unit.symbol == "N·m":
        feet = UNITS["lbf·ft"].factor
        yield (
            round(right * feet, 1),
            f"That would be the number taken for lbf·ft; the step gives {fact.text}.",
        )
        yield round(right / feet, 1), f"That is the number in lbf·ft; the step gives {fact.text}."
    yield right * 2, f"Twice as much; the step gives {fact.text}."
    yield right / 2, f"Half as much; the step gives {fact.text}."
