"""Many cards as one file for the printer, with a contents page in front."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

import pikepdf

from kilter.outcome import CouldNotRunError
from kilter.publish.cards.family import Kind, Subject, code_of, make
from kilter.publish.cards.inline import printable
from kilter.publish.cards.problems import CardProblems
from kilter.publish.cards.template import Template
from kilter.publish.paper.choose import Chosen
from kilter.publish.paper.impose import Entry, impose
from kilter.publish.paper.order import Card, Job, Sheet, folds, sheets
from kilter.publish.paper.plan import Grid, Paper, TooLargeError, grid_for, leaves, sides
from kilter.publish.prepare import Withheld
from kilter.publish.view import DRAFT, STANDING, UNCONTROLLED, DocumentView

TITLE = "Cards for the printer"


class Made(NamedTuple):
    """One card of the batch."""

    kind: Kind
    subject: Subject
    pdf: bytes
    card: Card

    @property
    def title(self) -> str:
        of = self.subject.front.title
        return f"{self.subject.number} {of}: {self.kind.title}"


@dataclass(frozen=True)
class Batch:
    """The file, and what to say of it."""

    pdf: bytes
    cards: tuple[Made, ...]
    sheets: int
    """Of paper, the contents' own too."""
    pages: int


def make_cards(chosen: Chosen) -> list[Made]:
    """Each chosen card as PDF; what can't be made is added to what is refused."""
    made = []
    for kind, subject in chosen.cards:
        try:
            pdf = make(kind, subject)
        except CardProblems as trouble:
            name = f"{subject.number} {subject.front.title}: {kind.title}"
            document = subject.document if isinstance(subject, DocumentView) else subject.profile
            chosen.refused.append(Withheld(document.path, name, tuple(trouble.findings)))
            continue
        card = Card(Paper(kind.width, kind.height), _pages(pdf), kind.sides == 2)
        made.append(Made(kind, subject, pdf, card))
    return made


def _pages(pdf: bytes) -> int:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return len(opened.pages)


def batch(
    cards: Sequence[Made], job: Job, name: str, library: str, refused: Sequence[Withheld], marks: bool
) -> Batch:
    """One PDF of sheets of one size, called `name` for people. Raises CouldNotRunError where a card does not fit."""
    try:
        planned = list(sheets([c.card for c in cards], job))
    except TooLargeError:
        raise _too_large(cards, job, name) from None
    first = _first_sides(planned)
    data = _data(cards, job, name, library, refused)
    empty = _contents(data, [0] * len(cards))
    front = _front(len(cards), empty, job)
    before = sum(len(s.sides) for s in front)
    contents = _contents(data, [first[n] + before + 1 for n in range(len(cards))])
    outline = [Entry("Contents", 0)]
    outline += [Entry(c.title, first[n] + before) for n, c in enumerate(cards)]
    whole = [*front, *planned]
    pdf = impose([*(c.pdf for c in cards), contents], whole, f"{TITLE}: {library}", marks, outline)
    return Batch(pdf, tuple(cards), len(whole), sum(len(s.sides) for s in whole))


def _too_large(cards: Sequence[Made], job: Job, name: str) -> CouldNotRunError:
    for each in cards:
        try:
            grid_for(each.card.paper, job.sheet)
        except TooLargeError:
            w, h = each.card.paper
            return CouldNotRunError(
                f"{each.title}: {w:g} x {h:g} mm does not fit on {name}; choose a larger --sheet or other --cards"
                " (a card is never printed smaller: it could not be read at its distance)"
            )
    raise AssertionError("no card is too large")


def _first_sides(planned: Sequence[Sheet]) -> dict[int, int]:
    """The side on which each source is seen first, from 0."""
    found: dict[int, int] = {}
    all_sides = [side for sheet in planned for side in sheet.sides]
    for n, side in enumerate(all_sides):
        for placed in side:
            found.setdefault(placed.page.source, n)
    return found


def _front(source: int, contents: bytes, job: Job) -> list[Sheet]:
    """Sheets of the contents themselves."""
    grid = Grid(job.sheet, job.sheet, 1, 1)
    own = leaves(source, _pages(contents), job.flip != "none")
    return [Sheet(grid, tuple(sides(grid, [leaf], job.flip))) for leaf in own]


def _contents(data: dict[str, Any], pages: Sequence[int]) -> bytes:
    rows = [[*row, str(page)] for row, page in zip(data["rows"], pages, strict=True)]
    return Template("contents.typ", Path(__file__).parent).pdf({**data, "rows": rows})


def _data(
    cards: Sequence[Made], job: Job, name: str, library: str, refused: Sequence[Withheld]
) -> dict[str, Any]:
    return {
        "title": TITLE,
        "library": printable(library),
        "width": job.sheet.width,
        "height": job.sheet.height,
        "standing": STANDING,
        "uncontrolled": UNCONTROLLED,
        "how": _how(cards, job, name),
        "refused": [printable(f"{each.name}: {reason(each)}") for each in refused],
        "rows": [_row(c, job) for c in cards],
    }


def _row(made: Made, job: Job) -> list[str]:
    code = code_of(made.kind, made.subject)
    title = printable(made.subject.front.title)
    return [code.number, title, made.kind.title, code.revision or "–", code.hash, str(copies(made.card, job))]


def copies(card: Card, job: Job) -> int:
    """How many of a card come out: with `same` every place of a sheet is filled."""
    if job.layout != "same":
        return job.copies
    places = grid_for(card.paper, job.sheet).places
    return -(-job.copies // places) * places


def _how(cards: Sequence[Made], job: Job, name: str) -> list[str]:
    turn = {
        "long": "On both sides, flip on the long edge.",
        "short": "On both sides, flip on the short edge.",
        "none": "On one side of the paper only.",
    }
    lines = [f"Paper {name}, actual size (100 %): not “fit to page”. {turn[job.flip]}"]
    if any(folds(c.card, job) for c in cards):
        lines.append("Booklets: lay a card's sheets on each other, fold in the middle, staple in the fold.")
    if any(grid_for(c.card.paper, job.sheet).places > 1 for c in cards):
        lines.append(
            "Cut through the middle between cards that lie side by side; seal lamination beyond their edge."
        )
    lines.append(
        "Then look at each card: right back behind the front, nothing cut off, signal words read in grey, "
        "QR code answers a telephone, revision and hash as in the list below."
    )
    lines.append(f"Every card here is marked {DRAFT}: nobody has approved it yet.")
    lines.append(
        "This file is for the printer; the cards that a screen reader can read are those of kilter build."
    )
    return lines


def reason(held: Withheld) -> str:
    """Why a document is not printed, in a few words."""
    if held.because_of:
        return f"its equipment profile {held.because_of} has errors"
    return held.errors[0].message if held.errors else "it has errors"
