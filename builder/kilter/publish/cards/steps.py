"""Steps as data for the templates."""

from __future__ import annotations

import re
from typing import TypedDict

from kilter.model.base import fold
from kilter.model.document import Answer, Failure
from kilter.model.text import Panel, Role, plain
from kilter.publish.cards.blocks import BlockData, PanelData, blocks_data, panel_data
from kilter.publish.cards.inline import Inline, Scope, inlines, printable
from kilter.publish.view import EXITS, AnswerView, StepView

VALUE_WORDS = {"torque": "Tighten to", "set": "Set to", "read": "Reading"}
PHASES = ("as found", "as left")
GO_BACK = "go back to the step that sent you here"


class ValueData(TypedDict):
    """A value in a line of its own."""

    label: str
    value: str
    phase: str
    """`as found`, `as left` or `found`: words of the box to write in; empty where nothing is read."""
    unit: str


class AnswerData(TypedDict):
    """What is seen, and where it leads."""

    seen: list[Inline]
    goto: str
    words: str
    """What the author calls the way: mostly the title of its step."""
    to: str
    """Label of the step, empty for a return."""
    mark: str


class ExitData(TypedDict):
    """How the work ends at a step."""

    title: str
    tagged: bool
    contact: str
    held: str
    guards: str
    live: bool


class StepData(TypedDict):
    """One step. `path`, `line` name its heading when it does not fit on a page."""

    key: str
    number: str
    title: str
    anchor: str
    strip: list[list[str]]
    hands: str
    panels: list[PanelData]
    do: str
    do_to: str
    blocks: list[BlockData]
    values: list[ValueData]
    origin: str
    answers: list[AnswerData]
    then: str
    then_to: str
    exit: ExitData | None


def step_data(view: StepView, scope: Scope, returns: bool) -> StepData:
    """A step; `returns` says that a shared stage ends here."""
    step = view.step
    values = [_value(role) for role in step.roles if role.name in VALUE_WORDS]
    back = returns and not (view.exit or view.go_to or view.answers)
    return {
        "key": view.key,
        "number": view.number,
        "title": printable(step.title),
        "anchor": view.anchor,
        "strip": [[printable(m.source.upper()), m.state] for m in view.strip],
        "hands": view.hands,
        "panels": [panel_data(p, scope) for p in step.panels],
        "do": printable(view.do_label),
        "do_to": view.do,
        "blocks": blocks_data([b for b in step.blocks if not isinstance(b, Panel)], scope),
        "values": values,
        "origin": printable(view.origin) if values else "",
        "answers": [_answer(step.answers[a.index], a, scope) for a in view.answers],
        "then": f"Then {GO_BACK}." if back else f"Then go to step {view.go_to_number}." if view.go_to else "",
        "then_to": view.go_to,
        "exit": _exit(view, scope),
    }


def _answer(answer: Answer, view: AnswerView, scope: Scope) -> AnswerData:
    return {
        "seen": inlines(answer.seen, scope),
        "words": printable(plain(answer.link.runs)),
        "goto": "go back" if view.back else f"step {view.number}",
        "to": view.target,
        "mark": _mark(answer.failure),
    }


def _mark(failure: Failure | None) -> str:
    if failure is None:
        return ""
    sources = ", ".join(n.text for n in failure.sources)
    return printable(f"{failure.mark.replace('-', ' ')}{': ' if sources else ''}{sources}")


def _value(role: Role) -> ValueData:
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
        "phase": (phase or "found") if role.name == "read" else "",
        "unit": printable(unit_of(limit)),
    }


def unit_of(value: str) -> str:
    """What stands after the last number: `27.3 ± 0.3 V` is in V."""
    found = re.search(r"[0-9]\s*([^0-9]*)$", value)
    return found.group(1).strip() if found else ""


def _exit(view: StepView, scope: Scope) -> ExitData | None:
    if not view.exit:
        return None
    tagged = fold(view.exit) == fold("left locked out, tagged")
    return {
        "title": EXITS.get(fold(view.exit), view.exit),
        "tagged": tagged,
        "contact": printable(scope.view.contact) if tagged else "",
        "held": printable(", ".join(view.held)),
        "guards": printable(", ".join(view.guards_off)),
        "live": view.treat_as_live,
    }
