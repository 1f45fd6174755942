"""Steps as data for the templates."""

from __future__ import annotations

import re
from typing import TypedDict

from kilter.model.base import fold
from kilter.model.text import Panel, Role
from kilter.publish.cards.blocks import BlockData, PanelData, blocks_data, panel_data
from kilter.publish.cards.calculations import WindowData, windows_data
from kilter.publish.cards.facts import MustData, facts_data, reason, strip_data
from kilter.publish.cards.inline import Scope, in_brackets, printable
from kilter.publish.cards.ways import AnswerData, ExitData, ThenData, answers_data, exit_data, then_data
from kilter.publish.view import StageView, StepView
from kilter.publish.window import step_windows

VALUE_WORDS = {"torque": "Tighten to", "set": "Set to", "read": "Reading"}
PHASES = ("as found", "as left")


class ValueData(TypedDict):
    """A value in a line of its own."""

    label: str
    value: str
    other: str
    """In the other system, in parentheses."""
    phase: str
    """`as found`, `as left` or `found`: words of the box to write in; empty where nothing is read."""
    unit: str


class StepData(TypedDict):
    """One step; `key` names it when it does not fit on a page."""

    key: str
    number: str
    title: str
    anchor: str
    strip: list[MustData]
    hands: str
    why: str
    """Why the hands are there, where the author says it."""
    facts: list[str]
    panels: list[PanelData]
    do: str
    do_to: str
    blocks: list[BlockData]
    values: list[ValueData]
    windows: list[WindowData]
    origin: str
    answers: list[AnswerData]
    then: ThenData
    exit: ExitData | None


def step_data(view: StepView, stage: StageView, scope: Scope) -> StepData:
    """A step of a stage."""
    step = view.step
    values = [value_data(role) for role in step.roles if role.name in VALUE_WORDS]
    return {
        "key": view.key,
        "number": view.number,
        "title": printable(step.title),
        "anchor": view.anchor,
        "strip": strip_data(view),
        "hands": view.hands,
        "why": reason(step),
        "facts": facts_data(step),
        "panels": [panel_data(p, scope) for p in step.panels],
        "do": printable(view.do_label),
        "do_to": view.do,
        "blocks": blocks_data([b for b in step.blocks if not isinstance(b, Panel)], scope),
        "values": values,
        "windows": windows_data(step_windows(step, stage.stage, scope.view.equipment)),
        "origin": printable(view.origin) if values else "",
        "answers": answers_data(view, scope),
        "then": then_data(view, stage, scope),
        "exit": exit_data(view, scope),
    }


def value_data(role: Role) -> ValueData:
    """`as found, lid travel: 7.6–8.2 mm` is a phase, a label and a limit."""
    label, _, limit = role.text.rpartition(":")
    phase, comma, name = label.partition(",")
    phase, name = (fold(phase), name) if comma and fold(phase) in PHASES else ("", label)
    if fold(name) in PHASES:
        phase, name = fold(name), ""
    word = VALUE_WORDS[role.name]
    return {
        "label": printable(f"{word}: {name.strip()}" if name.strip() else word),
        "value": printable(limit.strip()),
        "other": in_brackets(role),
        "phase": (phase or "found") if role.name == "read" else "",
        "unit": printable(unit_of(limit)),
    }


def unit_of(value: str) -> str:
    """What stands after the last number: `27.3 ± 0.3 V` is in V."""
    found = re.search(r"[0-9]\s*([^0-9]*)$", value)
    return found.group(1).strip() if found else ""
