"""A paper drawn from a bank: every objective is asked about, safety first, and no fact twice.

The same bank, form and serial give the same paper here and in a browser (`web/paper.js`). Each question's place
depends on its own lot, so that a new question in the bank pushes few others about. A form takes questions that the
forms before it left, as far as there are any, so that neighbours can't copy.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace

from kilter.model.training import TrainingFront
from kilter.publish.training.questions.draw import Draw, digest
from kilter.publish.training.questions.model import LETTERS, Paper, Question

CODE = 6
"""Hex digits of a paper's code, over all that it asks: the same code is the same paper."""


def papers(bank: Sequence[Question], front: TrainingFront, serial: int = 1) -> tuple[Paper, ...]:
    """All forms that a module asks for."""
    return tuple(paper(bank, front, LETTERS[n], serial) for n in range(front.paper.forms))


def paper(bank: Sequence[Question], front: TrainingFront, form: str, serial: int = 1) -> Paper:
    """One form; shorter than asked for where the facts allow no more."""
    used: set[str] = set()
    chosen: list[Question] = []
    for letter in LETTERS[: LETTERS.index(form) + 1]:
        seed = ("paper", front.number, front.revision, letter, serial)
        chosen = _chosen(bank, tuple(front.objectives), front.paper.questions, seed, used)
        used |= {q.id for q in chosen}
    seed = ("paper", front.number, front.revision, form, serial)
    shown = _shown(sorted(chosen, key=lambda q: digest(*seed, "place", q.id)), seed)
    drawn = digest(*seed, *(piece for q in shown for piece in _asked(q)))[:CODE].upper()
    code = f"{front.number}-{front.revision}-{form}{serial}-{drawn}"
    return Paper(front.number, front.revision, form, serial, code, tuple(shown))


def _asked(question: Question) -> tuple[object, ...]:
    """What the code of a paper stands for: another word, value or order of choices is another paper."""
    return question.id, question.key, question.stem, *(c.text for c in question.choices)


def _chosen(
    bank: Sequence[Question],
    objectives: tuple[str, ...],
    count: int,
    seed: tuple[object, ...],
    used: set[str],
) -> list[Question]:
    lots = {q.id: digest(*seed, q.id) for q in bank}
    left, found = list(bank), list[Question]()
    kinds: Counter[str] = Counter()
    asked = dict.fromkeys(objectives, 0)
    while left and len(found) < count:
        able = [o for o in objectives if any(o in q.objectives for q in left)]
        objective = min(able, key=lambda o: (asked[o], objectives.index(o))) if able else None
        of_it = [q for q in left if objective is None or objective in q.objectives]
        first = objective is not None and asked[objective] == 0
        taken = min(of_it, key=lambda q: (first and not q.safety, q.id in used, kinds[q.kind], lots[q.id]))
        found.append(taken)
        kinds[taken.kind] += 1
        for name in taken.objectives:
            if name in asked:
                asked[name] += 1
        left = [q for q in left if q.fact != taken.fact]
    return found


def _shown(chosen: list[Question], seed: tuple[object, ...]) -> list[Question]:
    """Choices in the order of this form: those without a size are put so that the right ones spread evenly."""
    places: Counter[int] = Counter(q.key for q in chosen if q.ranked)
    found = []
    for question in chosen:
        if question.ranked:
            found.append(question)
            continue
        draw = Draw(*seed, "choices", question.id)
        right = question.choices[question.key]
        wrong = draw.shuffled([c for n, c in enumerate(question.choices) if n != question.key])
        free = range(len(question.choices))
        fewest = min(places[n] for n in free)
        key = draw.one([n for n in free if places[n] == fewest])
        places[key] += 1
        found.append(replace(question, choices=(*wrong[:key], right, *wrong[key:]), key=key))
    return found
