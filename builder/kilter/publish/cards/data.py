"""A document's view as the data of a card: plain values that JSON can hold."""

from __future__ import annotations

from typing import TypedDict

from kilter.model.front import ProcedureFront
from kilter.model.text import Panel
from kilter.publish.cards.blocks import BlockData, PanelData, blocks_data, panel_data
from kilter.publish.cards.facts import facts_data
from kilter.publish.cards.heads import HeadData, Row, document_head, row
from kilter.publish.cards.inline import Scope, printable
from kilter.publish.cards.steps import StepData, step_data
from kilter.publish.view import DocumentView, StageView


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


class CardData(HeadData):
    """All that the template of a whole document is given."""

    facts: list[Row]
    blocks: list[BlockData]
    energy: list[Row]
    kit: list[Row]
    stages: list[StageData]


def card_data(view: DocumentView, width: int, height: int, card: str = "") -> CardData:
    """The data of a card on a sheet of `width` x `height` mm."""
    return {
        **document_head(view, width, height, card),
        "facts": _facts(view),
        "blocks": blocks_data(view.document.blocks, Scope(view, view.document)),
        "energy": [row(e.name, e.isolate, e.release, e.prove) for e in view.energy],
        "kit": _kit(view),
        "stages": [_stage(view, stage) for stage in view.stages],
    }


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
    return [row(name, text) for name, text in found if text]


def _kit(view: DocumentView) -> list[Row]:
    rows = []
    for kit in view.kit:
        details = [kit.range, kit.accuracy and f"accuracy {kit.accuracy}"]
        details += [kit.calibration and f"calibrated each {kit.calibration}"]
        details += [kit.stock and f"stock no. {kit.stock}"]
        amount = ", ".join(filter(None, (kit.quantity, kit.new)))
        rows.append(row(kit.name, "; ".join(filter(None, details)), amount))
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
