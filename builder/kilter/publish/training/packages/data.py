"""The papers of a module as data: what a page works by, what marking reads, what is kept of an issue."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from kilter.model.training import TrainingFront
from kilter.publish.training.packages.figures import Shown
from kilter.publish.training.packages.wire import papers_digest, wire_id
from kilter.publish.training.questions.model import Paper, Question

FORM = "kilter-quiz-1"
PICTURES = "pictures/"


def quiz_data(
    front: TrainingFront, papers: Sequence[Paper], figures: Mapping[str, Shown], practice: bool = False
) -> dict[str, Any]:
    """JSON-able; pictures are named, their bytes travel beside it."""
    return {
        "schema": FORM,
        "module": front.number,
        "revision": front.revision,
        "title": front.title,
        "digest": papers_digest(papers),
        "passMark": front.pass_mark,
        "practice": practice,
        "objectives": {name: objective.text for name, objective in front.objectives.items()},
        "papers": [
            {
                "form": paper.form,
                "serial": paper.serial,
                "code": paper.code,
                "questions": [_question(q, figures.get(q.id)) for q in paper.questions],
            }
            for paper in papers
        ],
    }


def _question(question: Question, figure: Shown | None) -> dict[str, Any]:
    cite = question.cites
    return {
        "id": question.id,
        "wire": wire_id(question.id),
        "kind": question.kind,
        "fact": question.fact,
        "stem": question.stem,
        "choices": [{"text": c.text, "why": c.why} for c in question.choices],
        "key": question.key,
        "safety": question.safety,
        "objectives": list(question.objectives),
        "aims": [wire_id(o) for o in question.objectives],
        "cite": {
            "document": cite.document,
            "revision": cite.revision,
            "anchor": cite.anchor,
            "number": cite.number,
            "title": cite.title,
            "hash": cite.hash,
        },
        "figure": figure and _figure(figure),
    }


def _figure(figure: Shown) -> dict[str, Any]:
    rings = [{"x": round(r.x, 1), "y": round(r.y, 1), "r": round(r.radius, 1)} for r in figure.rings]
    return {
        "src": PICTURES + figure.name,
        "width": figure.width,
        "height": figure.height,
        "regions": rings,
    }
