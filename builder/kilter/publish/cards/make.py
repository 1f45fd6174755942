"""Cards as PDF files, and what keeps a card from being made."""

from __future__ import annotations

import json
import re
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

import typst

from kilter.diagnostic import Diagnostic
from kilter.model.front import CheckFront
from kilter.publish.cards.data import card_data
from kilter.publish.cards.glyphs import font_folder
from kilter.publish.cards.problems import find_problems, too_tall
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


class CardProblems(Exception):
    """What the author has to mend before the card can be made."""

    def __init__(self, findings: list[Diagnostic]) -> None:
        super().__init__("; ".join(f.message for f in findings))
        self.findings = findings


class CardError(Exception):
    """A fault of ours: the template failed or gave a warning."""


class Template:
    """One typst template, kept compiled: the next card takes half the time of the first."""

    def __init__(self, name: str, width: int, height: int, folder: Path = FOLDER) -> None:
        self.name, self.width, self.height, self.folder = name, width, height, folder

    @cached_property
    def _compiler(self) -> typst.Compiler:
        return typst.Compiler(
            str(self.folder / self.name),
            root=str(self.folder),
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
            raise translated(trouble) from None
        if warnings:
            raise CardError(f"{view.number}: {warnings[0].message}")
        assert isinstance(made, bytes)
        return made


def translated(trouble: typst.TypstError) -> Exception:
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
        """The A5 card of a procedure; raises CardProblems."""
        return self._made(self._procedure, view)

    def check_card(self, view: DocumentView) -> bytes:
        """The A4 landscape card of a pre-use check; raises CardProblems."""
        return self._made(self._check, view)

    def cards_for(self, view: DocumentView) -> dict[str, bytes]:
        """The cards of a document by file name: its number alone, as its page's address. Raises CardProblems."""
        make = self.check_card if isinstance(view.front, CheckFront) else self.procedure_card
        return {f"{view.number.lower()}.pdf": make(view)}

    @staticmethod
    def _made(template: Template, view: DocumentView) -> bytes:
        problems = find_problems(view)
        if problems:
            raise CardProblems(problems)
        try:
            return template.pdf(view)
        except TooTallError as tall:
            raise CardProblems([too_tall(view, *s) for s in tall.steps]) from None
