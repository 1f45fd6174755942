"""The written paper, its answer sheet, and its key."""

from __future__ import annotations

from kilter.check.sessions import for_the_paper
from kilter.model.document import Document
from kilter.model.text import Figure, Item
from kilter.publish.cards.handout import SCALE
from kilter.publish.cards.heads import Data
from kilter.publish.cards.inline import Scope, printable
from kilter.publish.cards.pictures import figure_data
from kilter.publish.training.paper.subject import Subject
from kilter.publish.training.questions.model import LETTERS, FigureRef, Paper, Question
from kilter.publish.view import DocumentView


def exam_data(subject: Subject, paper: Paper, width: int, height: int) -> Data:
    """Questions without their key, and a sheet to mark the answers on."""
    front = subject.module.front
    return {
        **_head(subject, paper, width, height, "Written paper"),
        "minutes": for_the_paper(front),
        "pass": front.pass_mark,
        "questions": [_question(subject, n, q) for n, q in enumerate(paper.questions, 1)],
    }


def key_data(subject: Subject, paper: Paper, width: int, height: int) -> Data:
    """The right answer of each question, why the others are wrong, and the step that it stands on."""
    rows = [_key(n, q) for n, q in enumerate(paper.questions, 1)]
    needed = -(-subject.module.front.pass_mark * len(rows) // 100)
    head = _head(subject, paper, width, height, "Key")
    return {**head, "needed": needed, "pass": subject.module.front.pass_mark, "rows": rows}


def _head(subject: Subject, paper: Paper, width: int, height: int, sheet: str) -> Data:
    name = f"{sheet}, form {paper.form}"
    head = subject.head(width, height, name)
    return {**head, "scale": SCALE, "code": printable(paper.code), "form": paper.form}


def _question(subject: Subject, number: int, question: Question) -> Data:
    choices = [
        {"letter": letter, "text": printable(c.text)}
        for letter, c in zip(LETTERS, question.choices, strict=False)
    ]
    shown = _figure(subject, question) if question.figure else None
    return {"number": str(number), "stem": printable(question.stem), "choices": choices, "figure": shown}


def _key(number: int, question: Question) -> Data:
    wrong = [
        {"letter": letter, "why": printable(c.why)}
        for n, (letter, c) in enumerate(zip(LETTERS, question.choices, strict=False))
        if n != question.key and c.why
    ]
    right = question.choices[question.key]
    return {
        "number": str(number),
        "letter": question.letter,
        "text": printable(right.text),
        "why": printable(right.why),
        "wrong": wrong,
        "safety": question.safety,
        "cites": printable(question.cites.words),
        "hash": question.cites.hash,
        "objectives": ", ".join(question.objectives),
    }


def _figure(subject: Subject, question: Question) -> Data | None:
    """The picture with the places that are asked about: letters of the choices, or a question mark."""
    ref = question.figure
    found = _find(subject, ref) if ref else None
    if ref is None or found is None:
        return None
    view, owner, figure = found
    letters = [r.letter if question.kind == "point" else "?" for r in ref.regions]
    items = tuple(
        Item(number=n, x=r.x, y=r.y, label="", span=figure.span) for n, r in enumerate(ref.regions, 1)
    )
    bare = figure.replace(items=items, motions=(), scale=None, after=None, caption=())
    data: Data = dict(figure_data(bare, [], Scope(view, owner, live=False)))
    sheets = [
        {**s, "marks": [{**m, "number": letters[int(m["number"]) - 1]} for m in s["marks"]]}
        for s in data["sheets"]
    ]
    return {**data, "sheets": sheets, "items": [], "number": "", "alt": "Picture of the question"}


def _find(subject: Subject, ref: FigureRef) -> tuple[DocumentView, Document, Figure] | None:
    for view in subject.views.values():
        for owner in (view.document, view.profile):
            for figure in owner.figures:
                if owner.path == ref.owner and figure.path == ref.path and (figure.id or "") == ref.id:
                    return view, owner, figure
    return None
