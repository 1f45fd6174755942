"""The small facts beside a step: what must be true before it, what is exposed, what the check went by."""

from __future__ import annotations

from typing import TypedDict

from kilter.model.document import Stage, Step
from kilter.publish.cards.inline import printable
from kilter.publish.view import StepView, hands_reason, shown_fields, strip_rows


class MustData(TypedDict):
    """Sources that must be in one state before a step."""

    label: str
    """Empty where the one before it holds on."""
    names: list[str]
    state: str
    """Empty where the label says it."""


def strip_data(view: StepView) -> list[MustData]:
    """The energy strip; sources of one state stand together."""
    strip: list[MustData] = []
    for row in strip_rows(view.strip):
        label = row.label.upper()
        for state in dict.fromkeys(m.state for m in row.entries):
            names = [printable(m.source.upper()) for m in row.entries if m.state == state]
            strip.append({"label": label, "names": names, "state": state if row.states else ""})
            label = ""
    return strip


def reason(step: Step) -> str:
    """Why the hands are where the author says."""
    return printable(hands_reason(step))


def facts_data(of: Stage | Step) -> list[str]:
    """Zone, exemptions and switch, in the author's words."""
    return [printable(line) for line in shown_fields(of)]
