"""The sign-off sheet of a document: what an observer sees done on the chosen way, and what is talked through."""

from __future__ import annotations

from kilter.model.front import CheckFront
from kilter.publish.cards.heads import Data
from kilter.publish.cards.inline import printable
from kilter.publish.cards.order import in_order
from kilter.publish.training.paper.found import shown
from kilter.publish.training.paper.graph import Turn, Way
from kilter.publish.training.paper.lines import aim, hash_of, holds_control, is_control, sign_off_steps
from kilter.publish.training.paper.subject import Subject
from kilter.publish.view import EXITS, DocumentView

ATTEMPTS = 3


def sign_off_data(subject: Subject, view: DocumentView, width: int, height: int) -> Data:
    """The first way is the chosen one: it ends in service where any does, and has the most steps."""
    way = subject.ways[view.number.casefold()].ways[0]
    steps = sign_off_steps(view, way)
    return {
        **subject.head(width, height, "Sign-off sheet", view),
        "document": _document(view),
        "way": way_words(way),
        "steps": steps,
        "controls": sum(line["control"] for step in steps for line in step["lines"]),
        "talked": talked_through(view, way),
        "read": read_through(view, way),
        "all": len({step.anchor for _, step in in_order(view)}),
        "attempts": ATTEMPTS,
        "check": isinstance(view.front, CheckFront),
    }


def _document(view: DocumentView) -> Data:
    return {
        "number": view.number,
        "revision": view.front.revision,
        "title": printable(view.front.title),
        "hash": view.short_hash,
    }


def way_words(way: Way) -> str:
    """From the first step to the end, in numbers."""
    steps = len({t.step.anchor for t in way.turns})
    end = EXITS.get(way.last.exit.casefold(), way.last.exit) or "the last step"
    return printable(f"{steps} steps, from {way.turns[0].step.number} to {way.last.number}; ends: {end}")


def talked_through(view: DocumentView, way: Way) -> list[Data]:
    """Every answer that the way does not see, in the order of the document."""
    seen = {(t.step.anchor, t.answer) for t in way.turns}
    found = []
    for turn in (Turn(stage, step, None) for stage, step in in_order(view)):
        step = turn.step
        for answer in step.answers:
            if (step.anchor, answer.index) in seen:
                continue
            card = shown(step, answer.index)
            found.append(
                {
                    "number": step.number,
                    "title": printable(step.step.title),
                    "control": is_control(step, answer.index),
                    "found": printable("; ".join(filter(None, (card.meter, card.words)))),
                    "on": aim(step, answer.index),
                    "hash": hash_of(view, turn),
                }
            )
    return found


def read_through(view: DocumentView, way: Way) -> list[Data]:
    """Steps that are neither seen done nor talked through: with them the sheet covers the whole document."""
    seen = {t.step.anchor for t in way.turns}
    turns = {step.anchor: Turn(stage, step, None) for stage, step in in_order(view)}
    return [
        {
            "number": t.step.number,
            "title": printable(t.step.step.title),
            "control": holds_control(t.step),
            "hash": hash_of(view, t),
        }
        for anchor, t in turns.items()
        if anchor not in seen and not t.step.answers
    ]
