"""All papers of a module as PDF."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from kilter.check.module import ModuleContext
from kilter.model.base import fold
from kilter.publish.cards.heads import Data
from kilter.publish.cards.problems import CardProblems
from kilter.publish.cards.template import Template
from kilter.publish.training.paper.exam import exam_data, key_data
from kilter.publish.training.paper.handout import answers_data, handout_data, has_answers
from kilter.publish.training.paper.plan import plan_data
from kilter.publish.training.paper.printed import problems_of
from kilter.publish.training.paper.scenarios import scenarios_data
from kilter.publish.training.paper.signoff import sign_off_data
from kilter.publish.training.paper.slides import slides_data
from kilter.publish.training.paper.subject import Subject, numbers_of
from kilter.publish.training.paper.trainer import trainer_data
from kilter.publish.training.questions.model import Paper
from kilter.publish.view import DocumentView

FOLDER = Path(__file__).parent
PUBLISH = FOLDER.parent.parent
UPRIGHT, ACROSS, SLIDE = (210, 297), (297, 210), (320, 180)
"""Sheets, width and height in mm."""


@dataclass(frozen=True)
class Sheet:
    """One paper of a module."""

    name: str
    """Of its file."""
    title: str
    """What people call it."""
    template: str
    data: Data
    reader: str
    """`trainee`, or `trainer` for what trainees must not see beforehand."""


def sheets(
    context: ModuleContext, papers: Iterable[Paper], views: Iterable[DocumentView]
) -> dict[str, bytes]:
    """PDFs by file name; the same module gives the same bytes. Raises CardProblems for what the educator must mend."""
    return {sheet.name: pdf_of(sheet) for sheet in sheets_of(context, papers, views)}


def pdf_of(sheet: Sheet) -> bytes:
    """One of them as PDF."""
    return template(sheet.template).pdf(sheet.data)


def sheets_of(
    context: ModuleContext, papers: Iterable[Paper], views: Iterable[DocumentView]
) -> Iterator[Sheet]:
    """The papers of a module whose documents are all among `views`."""
    subject = subject_of(context, views)
    problems = problems_of(subject.module)
    if problems:
        raise CardProblems(problems)
    yield Sheet("handout.pdf", "Hand-out", "handout.typ", handout_data(subject, *UPRIGHT), "trainee")
    if has_answers(subject):
        answers = answers_data(subject, *UPRIGHT)
        yield Sheet("handout-answers.pdf", "Answers to the hand-out", "answers.typ", answers, "trainer")
    yield Sheet("slides.pdf", "Slides", "slides.typ", slides_data(subject, *SLIDE), "trainer")
    yield Sheet("session-plan.pdf", "Session plan", "plan.typ", plan_data(subject, *UPRIGHT), "trainer")
    yield Sheet("trainer.pdf", "Trainer's sheet", "trainer.typ", trainer_data(subject, *UPRIGHT), "trainer")
    for view in subject.covered:
        yield from _of_document(subject, view)
    for paper in papers:
        yield from _of_paper(subject, paper)


def _of_document(subject: Subject, view: DocumentView) -> Iterator[Sheet]:
    """A document without a step has nothing to sign off."""
    name, number = view.number.lower(), fold(view.number)
    if not subject.ways[number].ways:
        return
    signed = sign_off_data(subject, view, *ACROSS)
    yield Sheet(f"sign-off.{name}.pdf", f"Sign-off sheet {view.number}", "signoff.typ", signed, "trainer")
    told = scenarios_data(subject, view, *UPRIGHT)
    yield Sheet(f"scenarios.{name}.pdf", f"Scenarios {view.number}", "scenarios.typ", told, "trainer")


def _of_paper(subject: Subject, paper: Paper) -> Iterator[Sheet]:
    form = paper.form.lower()
    asked, key = exam_data(subject, paper, *UPRIGHT), key_data(subject, paper, *UPRIGHT)
    yield Sheet(f"paper-{form}.pdf", f"Written paper, form {paper.form}", "exam.typ", asked, "trainer")
    yield Sheet(f"paper-{form}-key.pdf", f"Key, form {paper.form}", "key.typ", key, "trainer")


def subject_of(context: ModuleContext, views: Iterable[DocumentView]) -> Subject:
    """Raises KeyError where a covered document is not among the published ones."""
    known: Mapping[str, DocumentView] = {fold(v.number): v for v in views}
    return Subject(context, {number: known[number] for number in numbers_of(context)})


@lru_cache(maxsize=16)
def template(name: str) -> Template:
    return Template(name, FOLDER, PUBLISH)
