"""Which step first, and three steps in order: only where no other order is safe."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, permutations

from kilter.model.base import fold
from kilter.publish.training.questions.cues import least_telling
from kilter.publish.training.questions.draw import digest
from kilter.publish.training.questions.forced import Pairs, forced_pairs
from kilter.publish.training.questions.model import Choice, Question
from kilter.publish.training.questions.subject import Asked, Subject, placed

CHOICES = 4
ARROW = " → "


def order_questions(subject: Subject, variants: int) -> Iterator[Question]:
    """For each step that must come before others: which of four comes first, and which order of three is safe."""
    pairs = forced_pairs(subject)
    for asked in subject.steps:
        after = [
            s for s in subject.steps if (asked.view.key, s.view.key) in pairs and _title(s) != _title(asked)
        ]
        for serial in range(variants):
            for made in (_first(subject, asked, after, serial), _order(subject, asked, after, pairs, serial)):
                if made is not None:
                    yield made


def _title(asked: Asked) -> str:
    return fold(asked.cite.title)


def _ranked(subject: Subject, asked: Asked, template: str, serial: int, others: list[Asked]) -> list[Asked]:
    """Others in an order that depends on each of them alone, so that a new step pushes none of them about."""
    here = asked.covered.step.slug
    found: dict[str, Asked] = {}
    for other in others:
        found.setdefault(_title(other), other)
    return sorted(
        found.values(), key=lambda o: digest(subject.number, here, template, serial, o.covered.step.slug)
    )


def _first(subject: Subject, asked: Asked, after: list[Asked], serial: int) -> Question | None:
    ranked = _ranked(subject, asked, "first", serial, after)
    looks = subject.draw(asked.covered.step.slug, asked.cite.title, "first looks", serial)
    found = least_telling(looks, asked.cite.title, ranked, lambda w: w.cite.title, CHOICES - 1)
    wrong = next(found, None)
    if wrong is None:
        return None
    draw = subject.draw(asked.covered.step.slug, ",".join(_title(w) for w in wrong), "first", serial)
    right = Choice(asked.cite.title, f"Step {asked.cite.number} must come before the three others.")
    fact = subject.fact_id(asked, "before")
    late = [Choice(w.cite.title, f"It can only follow “{asked.cite.title}”.") for w in wrong]
    choices, key = placed(draw, right, late, subject.turn(fact, "first", serial))
    stem = f"{subject.number}: which of these steps must come first?"
    return subject.question("first", asked, fact, serial, stem, choices, key, safety=True)


def _order(subject: Subject, asked: Asked, after: list[Asked], pairs: Pairs, serial: int) -> Question | None:
    ranked = _ranked(subject, asked, "order", serial, after)
    chain = next(
        (
            pair
            for two in combinations(ranked, 2)
            for pair in (two, two[::-1])
            if (pair[0].view.key, pair[1].view.key) in pairs
        ),
        None,
    )
    if chain is None:
        return None
    steps = (asked, *chain)
    names = [s.cite.title for s in steps]
    draw = subject.draw(asked.covered.step.slug, ",".join(names), "order", serial)
    wrong = draw.shuffled(list(permutations(range(3)))[1:])[: CHOICES - 1]
    right = Choice(
        ARROW.join(names), f"Steps {', '.join(s.cite.number for s in steps)}: no other order is safe."
    )
    fact = subject.fact_id(asked, "before")
    choices, key = placed(draw, right, [_wrong(names, o) for o in wrong], subject.turn(fact, "order", serial))
    stem = f"{subject.number}: in which order must these three steps be done?"
    return subject.question("order", asked, fact, serial, stem, choices, key, safety=True)


def _wrong(names: list[str], order: tuple[int, ...]) -> Choice:
    late = next((a, b) for a, b in combinations(range(3), 2) if order.index(a) > order.index(b))
    text = ARROW.join(names[n] for n in order)
    return Choice(text, f"“{names[late[0]]}” must come before “{names[late[1]]}”.")
