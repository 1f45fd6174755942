"""What is read, set and tightened, step by step, for sheets and tables."""

from __future__ import annotations

from typing import TypedDict

from kilter.model.text import Role
from kilter.publish.cards.inline import Scope, in_brackets, printable
from kilter.publish.cards.order import in_order
from kilter.publish.cards.steps import VALUE_WORDS, ValueData, value_data
from kilter.publish.cards.ways import AnswerData, answers_data
from kilter.publish.view import DocumentView, StageView, StepView
from kilter.publish.window import step_windows


class RunLine(TypedDict):
    """A step as it is written up on paper."""

    number: str
    title: str
    values: list[ValueData]
    waits: list[str]
    wait_first: bool
    """Whether the step waits before the first thing that is written down."""
    hold: str
    """For whom the work stops here; empty where it does not."""
    answers: list[AnswerData]
    tools: str


class SettingRow(TypedDict):
    """One torque or setting."""

    step: str
    what: list[str]
    """What is tightened or set, and the fastener."""
    value: str
    other: str
    window: str
    tool: str
    origin: str


def run_lines(view: DocumentView) -> list[RunLine]:
    """Every step at which something is written down, in the order of the work."""
    lines = [_run_line(stage, step, view) for stage, step in in_order(view)]
    return [x for x in lines if x["values"] or x["waits"] or x["hold"] or x["answers"]]


def _run_line(stage: StageView, step: StepView, view: DocumentView) -> RunLine:
    roles, hold = step.step.roles, step.step.field("hold")
    return {
        "number": step.number,
        "title": printable(step.step.title),
        "values": [value_data(r) for r in roles if r.name in VALUE_WORDS],
        "waits": [printable(r.text) for r in roles if r.name == "wait"],
        "wait_first": next((r.name for r in roles if r.name in (*VALUE_WORDS, "wait")), "") == "wait",
        "hold": printable(hold.value or "a second person") if hold else "",
        "answers": answers_data(step, Scope(view, stage.owner)),
        "tools": _named(step, "tool"),
    }


def has_run_lines(view: DocumentView) -> bool:
    """Whether anything is read, set or tightened."""
    return any(r.name in VALUE_WORDS for _, s in in_order(view) for r in s.step.roles)


def has_settings(view: DocumentView) -> bool:
    return any(_is_setting(r) for _, s in in_order(view) for r in s.step.roles)


def setting_rows(view: DocumentView, borrowed: bool | None = None) -> list[SettingRow]:
    """Torques and settings in the order of the work; of the machine's own stages only, or of all others, if asked."""
    pairs = [(g, s) for g, s in in_order(view) if borrowed is None or g.borrowed is borrowed]
    return [
        _setting_row(r, stage, step, view) for stage, step in pairs for r in step.step.roles if _is_setting(r)
    ]


def _is_setting(role: Role) -> bool:
    return role.name in ("torque", "set")


def _setting_row(role: Role, stage: StageView, step: StepView, view: DocumentView) -> SettingRow:
    label, _, value = role.text.rpartition(":")
    fastener = step.step.field("fastener") or stage.stage.field("fastener")
    friction = step.step.field("friction") or stage.stage.field("friction")
    what = [label.strip() or step.step.title]
    if role.name == "torque":
        what += [f"{f.name}: {f.value}" for f in (fastener, friction) if f]
    parts = _named(step, "part")
    what += [f"with {parts}"] if parts and role.name == "torque" else []
    windows = list(step_windows(step.step, stage.stage, view.equipment)) if role.name == "set" else []
    return {
        "step": step.number,
        "what": [printable(w) for w in what],
        "value": printable(value.strip()),
        "other": in_brackets(role),
        "window": printable("; ".join(w.text for w in windows)),
        "tool": _named(step, "tool"),
        "origin": printable(step.origin),
    }


def _named(step: StepView, role: str) -> str:
    names = dict.fromkeys(n.text for r in step.step.roles if r.name == role for n in r.names)
    return printable(", ".join(names))
