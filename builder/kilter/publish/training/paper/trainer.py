"""The trainer's sheet: how a fault is set on the training machine, how it is undone, and how that is proved."""

from __future__ import annotations

from kilter.model.base import fold
from kilter.model.training import Fault
from kilter.publish.cards.blocks import blocks_data
from kilter.publish.cards.handout import SCALE
from kilter.publish.cards.heads import Data
from kilter.publish.cards.inline import printable
from kilter.publish.training.paper.signoff import way_words
from kilter.publish.training.paper.subject import Subject
from kilter.publish.view import DocumentView


def trainer_data(subject: Subject, width: int, height: int) -> Data:
    """One part for each document; where the module says nothing of a fault, lines to write on."""
    wanted = {
        fold(n) for n in (*(v.number for v in subject.covered), *(f.number for f in subject.module.faults))
    }
    about = [view for number, view in subject.views.items() if number in wanted]
    parts = [_document(subject, view) for view in about]
    return {**subject.head(width, height, "Trainer's sheet"), "scale": SCALE, "parts": parts}


def _document(subject: Subject, view: DocumentView) -> Data:
    own = [f for f in subject.module.faults if fold(f.number) == fold(view.number)]
    ways = subject.ways[fold(view.number)].ways
    return {
        "number": view.number,
        "revision": view.front.revision,
        "title": printable(view.front.title),
        "equipment": printable(view.equipment.title),
        "faults": [_fault(subject, f) for f in own],
        "tests": [printable(t) for t in view.equipment.before_service],
        "ways": [way_words(way) for way in ways],
        "energy": [printable(row.name) for row in view.energy],
    }


def _fault(subject: Subject, fault: Fault) -> Data:
    return {
        "sets": printable(fault.sets),
        "shows": printable(fault.shows),
        "undo": printable(fault.undo),
        "prove": printable(fault.prove),
        "notes": blocks_data(fault.notes, subject.own),
    }
