"""People by documents: not trained, trained, signed off, due, out of date.

A sign-off holds for what was signed: it is bound to the facts of each step. When one of them changes, or a step is
new, what is signed is out of date and the list says which steps have to be shown again, and in which only the words
have changed: those are read and initialled, since words may change a meaning. Other edits leave it alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from kilter.model.base import fold
from kilter.publish.training.packages.table import csv_bytes
from kilter.publish.training.standing.months import months_later
from kilter.publish.training.standing.signed import PAPER, SIGNED, Row
from kilter.publish.training.standing.today import Document

NOT_TRAINED, TRAINED, SIGNED_OFF, DUE, OUT_OF_DATE = "not trained", "trained", "signed off", "due", "out of date"  # fmt: skip
SOON = timedelta(days=30)
"""How long before its day a sign-off is said to be due."""


@dataclass(frozen=True)
class Cell:
    """One person and one document."""

    person: str
    document: str
    state: str
    day: date | None = None
    """When it was signed; of a paper, when it was passed."""
    due: date | None = None
    again: tuple[str, ...] = ()
    """Steps to be shown again, with why."""


def matrix(rows: Sequence[Row], documents: Mapping[str, Document], today: date) -> tuple[Cell, ...]:
    """Every person who has a record by every document, in order of both."""
    people = sorted({r.person for r in rows}, key=fold)
    return tuple(cell(p, [r for r in rows if r.person == p], d, today) for p in people for d in documents.values())  # fmt: skip


def cell(person: str, rows: Iterable[Row], document: Document, today: date) -> Cell:
    """Of each step the last record counts; the sign-off is as old as its oldest step."""
    own = [r for r in rows if fold(r.document) == fold(document.number)]
    last: dict[str, Row] = {}
    for row in sorted((r for r in own if r.kind == SIGNED), key=lambda r: (r.date, r.line)):
        last[row.step] = row
    if not last:
        papers = [r.date for r in own if r.kind == PAPER]
        return Cell(person, document.number, TRAINED if papers else NOT_TRAINED, max(papers, default=None))
    day = min(r.date for r in last.values())
    months = [m for m in (document.months, *(r.months for r in last.values())) if m is not None]
    due = months_later(day, min(months)) if months else None
    again = tuple(_again(last, document))
    if again:
        return Cell(person, document.number, OUT_OF_DATE, day, due, again)
    state = DUE if due is not None and today >= due - SOON else SIGNED_OFF
    return Cell(person, document.number, state, day, due)


def _again(last: Mapping[str, Row], document: Document) -> Iterable[str]:
    for step, digest in document.steps.items():
        if step not in last:
            yield f"{step} (not signed)"
        elif last[step].hash != digest:
            words = last[step].facts and last[step].facts == document.facts.get(step)
            what = "words changed, read and initial" if words else "changed"
            yield f"{step} ({what}; signed {last[step].date.isoformat()})"


def matrix_table(cells: Sequence[Cell]) -> bytes:
    """People down, documents across."""
    people = list(dict.fromkeys(c.person for c in cells))
    documents = list(dict.fromkeys(c.document for c in cells))
    by_key = {(c.person, c.document): c for c in cells}
    rows = ([p, *(_words(by_key[p, d]) for d in documents)] for p in people)
    return csv_bytes(["person", *documents], rows)


def _words(found: Cell) -> str:
    until = f" until {found.due.isoformat()}" if found.due and found.state == SIGNED_OFF else ""
    since = f" {found.due.isoformat()}" if found.due and found.state == DUE else ""
    return f"{found.state}{until}{since}"


LIST = ("person", "document", "state", "signed", "due", "steps to show again")


def retraining_table(cells: Sequence[Cell]) -> bytes:
    """What has to be shown again, a row each."""
    asked = (c for c in cells if c.state in (DUE, OUT_OF_DATE))
    rows = (
        [c.person, c.document, c.state, _day(c.day), _day(c.due), "; ".join(c.again) or "all"] for c in asked
    )
    return csv_bytes(LIST, rows)


def _day(day: date | None) -> str:
    return "" if day is None else day.isoformat()
