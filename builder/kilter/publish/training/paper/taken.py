"""A module's text as data for its papers: own words, and what is taken from documents as it stands there."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.text import Figure, Panel
from kilter.model.training import Fault, Lesson, LessonBlock, OwnQuestion, Taken
from kilter.publish.cards.blocks import blocks_data, panel_data
from kilter.publish.cards.heads import Data, row
from kilter.publish.cards.inline import Scope, printable
from kilter.publish.cards.lines import SettingRow, setting_rows
from kilter.publish.cards.steps import VALUE_WORDS, step_data, value_data
from kilter.publish.training.paper.graph import Turn
from kilter.publish.training.paper.lines import hash_of
from kilter.publish.training.paper.strip import linkless
from kilter.publish.training.paper.subject import Subject
from kilter.publish.view import DocumentView, KitRow, StageView

LETTERS = "ABCDEFGH"


def module_data(subject: Subject) -> Data:
    """What stands above the first lesson, and the lessons."""
    return {
        "opening": pieces(subject, subject.module.blocks),
        "lessons": [_lesson(subject, n, lesson) for n, lesson in enumerate(subject.module.lessons, 1)],
    }


def _lesson(subject: Subject, number: int, lesson: Lesson) -> Data:
    return {
        "number": str(number),
        "title": printable(lesson.title),
        "minutes": f"{lesson.minutes} min" if lesson.minutes else "",
        "pieces": pieces(subject, lesson.blocks),
        "parts": [{"title": printable(p.title), "pieces": pieces(subject, p.blocks)} for p in lesson.parts],
    }


def pieces(subject: Subject, blocks: Iterable[LessonBlock]) -> list[Data]:
    """Own blocks, taken parts and questions, in the educator's order."""
    found: list[Data] = []
    for block in blocks:
        if isinstance(block, Taken):
            found.append(taken_data(subject, block))
        elif isinstance(block, OwnQuestion):
            found.append(question_data(subject, block))
        elif not isinstance(block, Fault):  # that is for the trainer alone
            found.append({"t": "own", "blocks": blocks_data([block], subject.own)})
    return found


def question_data(subject: Subject, question: OwnQuestion) -> Data:
    """A question with its choices by their letters: in the order written the right one would mostly come first."""
    written = sorted(question.choices, key=lambda c: fold(c.text))
    choices = [
        {"letter": letter, "text": printable(c.text), "why": printable(c.why), "right": c.right}
        for letter, c in zip(LETTERS, written, strict=False)
    ]
    return {"t": "question", "stem": blocks_data(question.stem, subject.own), "choices": choices}


def taken_data(subject: Subject, taken: Taken) -> Data:
    """What is taken, as plain data without links: the places they lead to are not on this paper."""
    view = subject.view(taken.number)
    made = _STEP[taken.part](subject, taken, view) if taken.step else _WHOLE[taken.part](view, taken)
    data: Data = {
        "t": "taken",
        "part": taken.part,
        "caption": blocks_data(taken.caption, subject.own),
        **made,
    }
    plain: Data = linkless(data, view.number)
    return plain


def _source(view: DocumentView, more: str = "") -> str:
    return printable(f"{view.number} rev. {view.front.revision}{f', {more}' if more else ''}")


def _of_step(subject: Subject, taken: Taken, view: DocumentView) -> Data:
    stage, step = subject.step(taken.number, taken.step)
    scope = Scope(view, stage.owner, live=False)
    return {
        "source": _source(view, f"step {step.number}, facts {hash_of(view, Turn(stage, step, None))}"),
        "panels": _stage_panels(view, stage),
        "step": step_data(step, stage, scope),
    }


def _panels_of_step(subject: Subject, taken: Taken, view: DocumentView) -> Data:
    stage, step = subject.step(taken.number, taken.step)
    own = [panel_data(p, Scope(view, stage.owner)) for p in step.step.panels]
    return {"source": _source(view, f"step {step.number}"), "panels": _stage_panels(view, stage) + own}


def _values_of_step(subject: Subject, taken: Taken, view: DocumentView) -> Data:
    _, step = subject.step(taken.number, taken.step)
    values = [value_data(role) for role in step.step.roles if role.name in VALUE_WORDS]
    return {"source": _source(view, f"step {step.number}"), "values": values, "rows": []}


def _stage_panels(view: DocumentView, stage: StageView) -> list[Any]:
    standing = [panel_data(p, Scope(view, view.document)) for p in stage.standing]
    return standing + [panel_data(p, Scope(view, stage.owner)) for p in stage.stage.panels]


def _figure(view: DocumentView, taken: Taken) -> Data:
    owner, figure = _named_figure(view, taken.figure)
    return {"source": _source(view), "blocks": blocks_data([figure], Scope(view, owner, live=False))}


def _named_figure(view: DocumentView, name: str) -> tuple[Document, Figure]:
    both = ((owner, f) for owner in (view.document, view.profile) for f in owner.figures)
    return next(pair for pair in both if fold(pair[1].id or "") == fold(name))


def _panels(view: DocumentView, taken: Taken) -> Data:
    """Every panel of the document once, the gravest first."""
    found: list[tuple[Panel, Scope]] = [(p, Scope(view, view.document)) for p in view.document.panels]
    for stage in view.stages:
        scope = Scope(view, stage.owner)
        found += [(p, scope) for p in (*stage.stage.panels, *(p for s in stage.steps for p in s.step.panels))]
    found.sort(key=lambda pair: -pair[0].rank)
    data = [panel_data(panel, scope) for panel, scope in found]
    return {"source": _source(view), "panels": [p for n, p in enumerate(data) if p not in data[:n]]}


def _values(view: DocumentView, taken: Taken) -> Data:
    return {"source": _source(view), "values": [], "rows": [_setting(r) for r in setting_rows(view)]}


def _setting(setting: SettingRow) -> Data:
    value = " ".join(filter(None, (setting["value"], setting["other"])))
    return {"name": setting["step"], "cells": ["; ".join(setting["what"]), value, setting["tool"]]}


def _energy(view: DocumentView, taken: Taken) -> Data:
    rows = [row(e.name, e.isolate, e.release, e.prove) for e in view.energy]
    return {"source": _source(view), "rows": rows}


def _kit(view: DocumentView, taken: Taken) -> Data:
    return {"source": _source(view), "rows": [kit_row(k) for k in view.kit]}


def kit_row(kit: KitRow) -> Any:
    """A tool or part: what it must be able to do, and how many."""
    details = [kit.range, kit.accuracy and f"accuracy {kit.accuracy}"]
    details += [
        kit.calibration and f"calibrated each {kit.calibration}",
        kit.stock and f"stock no. {kit.stock}",
    ]
    amount = ", ".join(filter(None, (kit.quantity, kit.new)))
    return row(kit.name, "; ".join(filter(None, details)), amount)


_STEP: dict[str, Callable[[Subject, Taken, DocumentView], Data]] = {
    "step": _of_step,
    "panels": _panels_of_step,
    "values": _values_of_step,
    "figure": lambda subject, taken, view: _figure(view, taken),
    "energy": lambda subject, taken, view: _energy(view, taken),
    "kit": lambda subject, taken, view: _kit(view, taken),
}
_WHOLE: dict[str, Callable[[DocumentView, Taken], Data]] = {
    "panels": _panels,
    "values": _values,
    "figure": _figure,
    "energy": _energy,
    "kit": _kit,
}
