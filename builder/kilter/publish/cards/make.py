"""All cards of a document or a machine."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from kilter.diagnostic import Diagnostic, Severity
from kilter.publish.cards.family import Subject, file_name, kinds_for, main_kind, make
from kilter.publish.cards.problems import CardProblems
from kilter.publish.view import DocumentView


class Made(NamedTuple):
    """What came of it."""

    cards: dict[str, bytes]
    """By file name."""
    left_out: tuple[Diagnostic, ...]
    """Why a card that nothing hangs on could not be made: warnings."""


def main_card(view: DocumentView) -> bytes:
    """The card without which a document is not published. Raises CardProblems."""
    return make(main_kind(view), view)


def cards_for(subject: Subject) -> Made:
    """Every card that the subject has. Raises CardProblems where its main card can't be made."""
    cards: dict[str, bytes] = {}
    left: list[Diagnostic] = []
    for kind in kinds_for(subject):
        try:
            cards[file_name(kind, subject)] = make(kind, subject)
        except CardProblems as trouble:
            if kind.main:
                raise
            left += [replace(f, severity=Severity.WARNING) for f in trouble.findings]
    return Made(cards, tuple(left))
