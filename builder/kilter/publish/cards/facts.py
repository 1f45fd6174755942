"""The small facts beside a step: what must be true before it, what is exposed, what the check went by."""

from __future__ import annotations

from typing import TypedDict

from kilter.model.document import Stage, Step
from kilter.publish.cards.inline import printable
from kilter.publish.view import StepView

SHOWN = {"zone": "Works in", "clear-of": "Out of reach", "switch": "Switch"}
"""Fields that are checked and shown nowhere else."""
LIVE = "live"
"""The word of the analysis for a source that nobody has cut off on every way here."""


class MustData(TypedDict):
    """Sources that must be in one state before a step."""

    label: str
    """MUST BE or TREAT AS LIVE, empty where the one before it holds on."""
    names: list[str]
    state: str
    """Empty where the label says it."""


def strip_data(view: StepView) -> list[MustData]:
    """The energy strip; sources of one state stand together, and nobody has to make one live."""
    found: dict[str, list[str]] = {}
    for must in view.strip:
        found.setdefault(must.state, []).append(printable(must.source.upper()))
    live = found.pop(LIVE, [])
    strip: list[MustData] = []
    for state, names in found.items():
        strip.append({"label": "" if strip else "MUST BE", "names": names, "state": state})
    if live:
        strip.append({"label": "TREAT AS LIVE", "names": live, "state": ""})
    return strip


def reason(step: Step) -> str:
    """Why the hands are where the author says: what stands after the dash."""
    field = step.field("hands")
    for dash in (" - ", " – ", " — "):
        _, found, why = field.value.partition(dash) if field else ("", "", "")
        if found:
            return printable(why.strip())
    return ""


def facts_data(of: Stage | Step) -> list[str]:
    """Zone, exemptions and switch, in the author's words."""
    return [printable(f"{SHOWN[f.name]}: {f.value}") for f in of.fields if f.name in SHOWN]
