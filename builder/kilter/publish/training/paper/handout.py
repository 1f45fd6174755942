"""The hand-out for trainees, and its answers on a sheet of their own."""

from __future__ import annotations

from typing import Any

from kilter.publish.cards.handout import SCALE
from kilter.publish.cards.heads import Data
from kilter.publish.training.paper.strip import figures_in, without_labels
from kilter.publish.training.paper.subject import Subject
from kilter.publish.training.paper.taken import module_data


def handout_data(subject: Subject, width: int, height: int) -> Data:
    """Figures keep their numbers and lose their names; which choice is right is not in it."""
    taught = without_labels(module_data(subject))
    audience = subject.module.front.audience or ""
    data = {**subject.head(width, height, "Hand-out"), **taught, "scale": SCALE, "audience": audience}
    unanswered: Data = _unanswered(data)
    return unanswered


def answers_data(subject: Subject, width: int, height: int) -> Data:
    """Names of the numbered items, and the questions' answers with the reason."""
    taught = module_data(subject)
    questions = _questions(taught)
    for n, question in enumerate(questions, 1):
        question["number"] = str(n)
    figures = [f for f in figures_in(taught) if f["items"]]
    head = subject.head(width, height, "Hand-out, answers")
    return {**head, "scale": SCALE, "figures": figures, "questions": questions}


def has_answers(subject: Subject) -> bool:
    taught = module_data(subject)
    return bool(_questions(taught) or [f for f in figures_in(taught) if f["items"]])


def _questions(value: Any) -> list[Data]:
    if isinstance(value, dict):
        if value.get("t") == "question":
            return [value]
        return [q for v in value.values() for q in _questions(v)]
    return [q for v in value for q in _questions(v)] if isinstance(value, list) else []


def _unanswered(data: Data) -> Data:
    """Questions numbered as on the answer sheet."""
    for n, question in enumerate(_questions(data), 1):
        question["number"] = str(n)
        question["choices"] = [{"letter": c["letter"], "text": c["text"]} for c in question["choices"]]
    return data
