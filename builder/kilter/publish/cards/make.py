"""Cards as PDF files, and what keeps a card from being made."""

from __future__ import annotations

import json
import re
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

import typst

from kilter.model.front import CheckFront
from kilter.publish.cards.data import card_data
from kilter.publish.cards.glyphs import font_folder
from kilter.publish.view import DocumentView

FOLDER = Path(__file__).parent


class Tall(NamedTuple):
    """A step higher than its page; mm."""

    key: str
    stage: str
    need: float
    room: float


class TooTallError(Exception):
    """Steps that do not fit on a page, so that the card would be cut off."""

    def __init__(self, steps: tuple[Tall, ...]) -> None:
        super().__init__(", ".join(f"{s.key}: {s.need:.0f} mm" for s in steps))
        self.steps = steps


class CardError(Exception):
    """A fault of ours: the template failed or gave a warning."""


class Template:
    """One typst template, kept compiled: the next card takes half the time of the first."""

    def __init__(self, name: str, width: int, height: int) -> None:
        self.name, self.width, self.height = name, width, height

    @cached_property
    def _compiler(self) -> typst.Compiler:
        return typst.Compiler(
            str(FOLDER / self.name),
            root=str(FOLDER),
            font_paths=[str(font_folder())],
            ignore_system_fonts=True,
        )

    def pdf(self, view: DocumentView) -> bytes:
        """The card's bytes, the same for the same view."""
        data = json.dumps(card_data(view, self.width, self.height), ensure_ascii=False)
        try:
            made, warnings = self._compiler.compile_with_warnings(
                format="pdf", sys_inputs={"data": data}, pdf_standards=["ua-1"]
            )
        except typst.TypstError as trouble:
            raise _translated(trouble) from None
        if warnings:
            raise CardError(f"{view.number}: {warnings[0].message}")
        assert isinstance(made, bytes)
        return made


def _translated(trouble: typst.TypstError) -> Exception:
    found = re.search(r"too-tall (\[.*\])", str(trouble.message).replace('\\"', '"'))
    if found is None:
        return CardError(f"{trouble.message} {trouble.diagnostic}")
    return TooTallError(tuple(Tall(**entry) for entry in json.loads(found.group(1))))


class CardMaker:
    """Makes the cards of any number of documents."""

    def __init__(self) -> None:
        self._procedure = Template("procedure.typ", 148, 210)
        self._check = Template("check.typ", 297, 210)

    def procedure_card(self, view: DocumentView) -> bytes:
        """The A5 card of a procedure."""
        return self._procedure.pdf(view)

    def check_card(self, view: DocumentView) -> bytes:
        """The A4 landscape card of a pre-use check."""
        return self._check.pdf(view)

    def cards_for(self, view: DocumentView) -> dict[str, bytes]:
        """The cards of a document by file name: its number alone, as its page's address."""
        make = self.check_card if isinstance(view.front, CheckFront) else self.procedure_card
        return {f"{view.number.lower()}.pdf": make(view)}
