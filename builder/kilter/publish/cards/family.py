"""The family of cards: what there is, what each is made of, and the one way to make one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal, NamedTuple, TypeVar

from kilter.model.front import CheckFront, ProcedureFront
from kilter.publish.cards.data import card_data
from kilter.publish.cards.handout import handout_data
from kilter.publish.cards.lines import has_run_lines, has_settings
from kilter.publish.cards.machine import has_lock, has_sources, placard_data, tag_data
from kilter.publish.cards.pocket import pocket_data
from kilter.publish.cards.problems import CardProblems, find_problems, too_tall
from kilter.publish.cards.record import has_machine_settings, record_data, settings_data
from kilter.publish.cards.template import Template, TooTallError
from kilter.publish.machine import MachineView
from kilter.publish.view import DocumentView

Subject = DocumentView | MachineView


@dataclass(frozen=True)
class Kind:
    """One kind of card."""

    name: str
    """Plain word for file names and commands."""
    title: str
    """What people call it."""
    width: int
    """Of the paper, mm."""
    height: int
    sides: Literal[1, 2]
    """Whether it is meant to be printed on one side of the paper or on both."""
    made_of: Literal["document", "equipment"]
    template: str
    data: Callable[[Any, int, int], Mapping[str, Any]]
    """Subject, width and height to what the template is given."""
    suits: Callable[[Any], bool]
    """Whether a subject of the right sort has such a card."""
    main: bool = False
    """The card without which a document is not published; its file has the document's number alone."""

    def applies(self, subject: Subject) -> bool:
        wanted = DocumentView if self.made_of == "document" else MachineView
        return isinstance(subject, wanted) and self.suits(subject)


class Code(NamedTuple):
    """What a card's QR code says, in parts."""

    number: str
    """Of the document, or the machine's id."""
    revision: str
    """A machine's is its profile's date, empty where there is none."""
    hash: str
    """First 12 hex digits of the content hash."""
    address: str


def _procedure(view: DocumentView) -> bool:
    return isinstance(view.front, ProcedureFront)


def _check(view: DocumentView) -> bool:
    return isinstance(view.front, CheckFront)


KINDS: tuple[Kind, ...] = (
    Kind(
        "procedure", "Procedure card", 148, 210, 2, "document", "procedure.typ", card_data, _procedure, True
    ),
    Kind("pocket", "Pocket card", 210, 297, 1, "document", "pocket.typ", pocket_data, _procedure),
    Kind("handout", "Hand-out", 210, 297, 2, "document", "handout.typ", handout_data, _procedure),
    Kind(
        "record",
        "As-found / as-left sheet",
        297,
        210,
        1,
        "document",
        "record.typ",
        record_data,
        has_run_lines,
    ),
    Kind(
        "settings",
        "Torques and settings",
        297,
        210,
        1,
        "document",
        "settings.typ",
        settings_data,
        has_settings,
    ),
    Kind("check", "Pre-use check card", 297, 210, 1, "document", "check.typ", card_data, _check, True),
    Kind("tag", "Lockout tag", 76, 146, 2, "equipment", "tag.typ", tag_data, has_lock),
    Kind("placard", "Energy placard", 210, 297, 1, "equipment", "placard.typ", placard_data, has_sources),
    Kind(
        "settings",
        "Torques and settings",
        297,
        210,
        1,
        "equipment",
        "settings.typ",
        settings_data,
        has_machine_settings,
    ),
)
"""In the order in which they are listed everywhere."""

EQUIPMENT_KINDS = tuple(kind for kind in KINDS if kind.made_of == "equipment")


def kinds_for(subject: Subject) -> Iterator[Kind]:
    """The cards that a document or a machine has."""
    return (kind for kind in KINDS if kind.applies(subject))


def main_kind(view: DocumentView) -> Kind:
    """The card without which the document is not published."""
    return next(kind for kind in kinds_for(view) if kind.main)


def file_name(kind: Kind, subject: Subject) -> str:
    """The name of the card's file."""
    return file_at(kind, subject.address)


def file_at(kind: Kind, address: str) -> str:
    """By the page's address: `str-110.pdf` for the main card, else `str-110.pocket.pdf`.

    No number holds a dot, so no two cards ever share a name.
    """
    stem = address.removesuffix(".html")
    return f"{stem}.pdf" if kind.main else f"{stem}.{kind.name}.pdf"


def file_names(subject: Subject) -> frozenset[str]:
    """The names of all its cards."""
    return frozenset(file_name(kind, subject) for kind in kinds_for(subject))


def code_of(kind: Kind, subject: Subject) -> Code:
    """What the QR code of that card says."""
    if isinstance(subject, DocumentView):
        return Code(subject.number, subject.front.revision, subject.short_hash, subject.url)
    gathered = kind.name == "settings"
    digest = subject.hash_with_documents if gathered else subject.hash
    return Code(subject.number, subject.revision, digest[:12], subject.url)


def make(kind: Kind, subject: Subject) -> bytes:
    """The card as PDF; the same subject gives the same bytes. Raises CardProblems."""
    return _made(kind, subject, Template.pdf)


def drawings(kind: Kind, subject: Subject) -> list[bytes]:
    """The card's pages as SVG, for the screen. Raises CardProblems."""
    return _made(kind, subject, Template.drawings)


Result = TypeVar("Result")


def _made(kind: Kind, subject: Subject, work: Callable[[Template, Mapping[str, Any]], Result]) -> Result:
    problems = find_problems(subject)
    if problems:
        raise CardProblems(problems)
    try:
        return work(_template(kind.template), kind.data(subject, kind.width, kind.height))
    except TooTallError as tall:
        raise CardProblems([too_tall(subject, kind.title, *s) for s in tall.steps]) from None


@lru_cache(maxsize=32)
def _template(name: str) -> Template:
    return Template(name)
