"""What stands on every card, of a document or of a machine."""

from __future__ import annotations

from datetime import date as Date
from typing import Any, TypedDict

from kilter.publish.cards.inline import printable
from kilter.publish.cards.signs import TRIANGLE, draft_mark, qr_code
from kilter.publish.machine import MachineView
from kilter.publish.view import DRAFT, STANDING, UNCONTROLLED, DocumentView


class TitleData(TypedDict):
    """The title block of every page."""

    label: str
    """What the number is of."""
    number: str
    title: str
    equipment: str
    revision: str
    date: str
    writers: str
    status: str
    task: str
    card: str
    """What the card is called."""
    hash: str
    qr: str


class Row(TypedDict):
    """A line of a table."""

    name: str
    cells: list[str]


class HeadData(TypedDict):
    """What every template is given."""

    title: TitleData
    date: list[int]
    standing: str
    uncontrolled: str
    draft: str
    triangle: str


def row(name: str, *cells: str) -> Row:
    return {"name": printable(name), "cells": [printable(c) for c in cells]}


def document_head(view: DocumentView, width: int, height: int, card: str = "") -> HeadData:
    """Of a document's card that is called `card`; of its main card, by its task."""
    front = view.front
    title: TitleData = {
        "label": "Document",
        "number": view.number,
        "title": printable(view.document.title or front.title),
        "equipment": printable(view.equipment.title),
        "revision": front.revision,
        "date": front.date.isoformat() if front.date else "–",
        "writers": printable(", ".join(front.writers)) or "–",
        "status": DRAFT,
        "task": card or view.task,
        "card": card or view.task,
        "hash": view.short_hash,
        "qr": qr_code(view.qr_text),
    }
    return _head(title, front.date, width, height)


def machine_head(machine: MachineView, width: int, height: int, card: str, digest: str = "") -> HeadData:
    """Of a machine's card; `digest` is the hash of what it is gathered from, if not of the profile alone."""
    front, short = machine.front, (digest or machine.hash)[:12]
    title: TitleData = {
        "label": "Equipment",
        "number": machine.number,
        "title": card,
        "equipment": printable(front.title),
        "revision": machine.revision or "–",
        "date": machine.revision or "–",
        "writers": printable(", ".join(front.writers)) or "–",
        "status": DRAFT,
        "task": card,
        "card": card,
        "hash": short,
        "qr": qr_code(f"{machine.url}?rev={machine.revision}&hash={short}"),
    }
    return _head(title, front.date, width, height)


def _head(title: TitleData, date: Date | None, width: int, height: int) -> HeadData:
    return {
        "title": title,
        "date": [date.year, date.month, date.day] if date else [],
        "standing": STANDING,
        "uncontrolled": UNCONTROLLED,
        "draft": draft_mark(width, height),
        "triangle": TRIANGLE,
    }


Data = dict[str, Any]
"""Head and what a kind adds to it."""
