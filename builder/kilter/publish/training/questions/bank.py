"""All questions that the covered steps of a module allow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from kilter.check.module import ModuleContext
from kilter.publish.training.questions.isolate import isolate_questions
from kilter.publish.training.questions.missing import missing_questions
from kilter.publish.training.questions.mistake import mistake_questions
from kilter.publish.training.questions.model import KINDS, Question
from kilter.publish.training.questions.order import order_questions
from kilter.publish.training.questions.own import own_questions
from kilter.publish.training.questions.part import part_questions
from kilter.publish.training.questions.subject import Subject, subjects
from kilter.publish.training.questions.value import value_questions

VARIANTS = 3
"""Questions of one fact, with other wrong choices: one of them stands in a paper at most."""


def bank(context: ModuleContext, variants: int = VARIANTS, missing: bool = True) -> tuple[Question, ...]:
    """The questions of a module by kind and id; `missing` leaves out those that need the check many times."""
    found: list[Question] = []
    every = list(subjects(context))
    for subject in every:
        found += of_subject(subject, variants)
        found += missing_questions(subject) if missing else ()
    found += own_questions(context, every)
    return tuple(sorted(_once(found), key=lambda q: (KINDS.index(q.kind), q.id)))


def of_subject(subject: Subject, variants: int) -> list[Question]:
    """All that is asked of one document without checking copies of it."""
    return [
        *value_questions(subject, variants),
        *mistake_questions(subject, variants),
        *order_questions(subject, variants),
        *isolate_questions(subject, variants),
        *part_questions(subject, variants),
    ]


def _once(found: Iterable[Question]) -> list[Question]:
    """Without a question that has the same words and choices as one before it."""
    seen: dict[tuple[object, ...], Question] = {}
    for question in found:
        places = question.figure.regions if question.figure else ()
        texts = tuple(sorted(c.text for c in question.choices))
        seen.setdefault((question.kind, question.stem, texts, places), question)
    return list(seen.values())


def allowed(questions: Iterable[Question]) -> dict[str, int]:
    """How many different facts can be asked about, by kind: no paper can be longer than their sum."""
    facts = {(q.kind, q.fact) for q in questions}
    counts = Counter(kind for kind, _ in facts)
    return {kind: counts[kind] for kind in KINDS if counts[kind]}
