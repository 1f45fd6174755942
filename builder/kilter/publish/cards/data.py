"""A document's view as the data of a card: plain values that JSON can hold."""

from __future__ import annotations

from typing import TypedDict

from kilter.model.front import ProcedureFront
from kilter.model.text import Panel
from kilter.publish.cards.blocks import BlockData, PanelData, blocks_data, panel_data
from kilter.publish.cards.facts import facts_data
from kilter.publish.cards.inline import Scope, printable
from kilter.publish.cards.signs import TRIANGLE, draft_mark, qr_code
from kilter.publish.cards.steps import StepData, step_data
from kilter.publish.view import DRAFT, STANDING, UNCONTROLLED, DocumentView, StageView


class TitleData(TypedDict):
    """The title block of every page."""

    number: str
    title: str
    equipment: str
    revision: str
    date: str
    writers: str
    status: str
    task: str
    hash: str
    qr: str


class Row(TypedDict):
    """A line of a table."""

    name: str
    cells: list[str]


class StageData(TypedDict):
    """One stage."""

    number: str
    title: str
    anchor: str
    called: str
    """Said under the heading of a stage that is only done where a step asks for it."""
    facts: list[str]
    panels: list[PanelData]
    blocks: list[BlockData]
    steps: list[StepData]


class CardData(TypedDict):
    """All that a template is given."""

    title: TitleData
    date: list[int]
    standing: str
    uncontrolled: str
    draft: str
    triangle: str
    facts: list[Row]
    blocks: list[BlockData]
    energy: list[Row]
    kit: list[Row]
    stages: list[StageData]


def card_data(view: DocumentView, width: int, height: int) -> CardData:
    """The data of a card on a sheet of `width` x `height` mm."""
    date = view.front.date
    scope = Scope(view, view.document)
    return {
        "title": _title(view),
        "date": [date.year, date.month, date.day] if date else [],
        "standing": STANDING,
        "uncontrolled": UNCONTROLLED,
        "draft": draft_mark(width, height),
        "triangle": TRIANGLE,
        "facts": _facts(view),
        "blocks": blocks_data(view.document.blocks, scope),
        "energy": [_row(e.name, e.isolate, e.release, e.prove) for e in view.energy],
        "kit": _kit(view),
        "stages": [_stage(view, stage) for stage in view.stages],
    }


def _title(view: DocumentView) -> TitleData:
    front = view.front
    return {
        "number": view.number,
        "title": printable(view.document.title or front.title),
        "equipment": printable(view.equipment.title),
        "revision": front.revision,
        "date": front.date.isoformat() if front.date else "–",
        "writers": printable(", ".join(front.writers)) or "–",
        "status": DRAFT,
        "task": view.task,
        "hash": view.short_hash,
        "qr": qr_code(view.qr_text),
    }


def _row(name: str, *cells: str) -> Row:
    return {"name": printable(name), "cells": [printable(c) for c in cells]}


def _facts(view: DocumentView) -> list[Row]:
    front = view.front
    found = [("Applies to", "; ".join(front.applies_to))]
    if isinstance(front, ProcedureFront):
        found += [
            ("Done for", "; ".join(s.symptom for s in front.symptoms)),
            ("Time", f"{front.time} min" if front.time else ""),
            ("People", str(front.people or "")),
            ("Lifted at once", f"{front.weight:g} kg" if front.weight else ""),
            ("Protective gear", ", ".join(front.protective)),
        ]
    return [_row(name, text) for name, text in found if text]


def _kit(view: DocumentView) -> list[Row]:
    rows = []
    for kit in view.kit:
        details = [kit.range, kit.accuracy and f"accuracy {kit.accuracy}"]
        details += [kit.calibration and f"calibrated each {kit.calibration}"]
        details += [kit.stock and f"stock no. {kit.stock}"]
        amount = ", ".join(filter(None, (kit.quantity, kit.new)))
        rows.append(_row(kit.name, "; ".join(filter(None, details)), amount))
    return rows


def _stage(view: DocumentView, stage: StageView) -> StageData:
    scope = Scope(view, stage.owner)
    panels = [panel_data(p, Scope(view, view.document)) for p in stage.standing]
    panels += [panel_data(p, scope) for p in stage.stage.panels]
    return {
        "number": stage.number,
        "title": printable(stage.stage.title),
        "anchor": stage.anchor,
        "called": _called(view, stage),
        "facts": facts_data(stage.stage),
        "panels": panels,
        "blocks": blocks_data([b for b in stage.stage.blocks if not isinstance(b, Panel)], scope),
        "steps": [step_data(s, stage, scope) for s in stage.steps],
    }


def _called(view: DocumentView, stage: StageView) -> str:
    if not stage.stage.shared:
        return ""
    callers = [s.number for other in view.stages for s in other.steps if s.do == stage.anchor]
    where = f": step {', '.join(callers)}" if callers else ""
    return f"Do this only when a step sends you here{where}."
