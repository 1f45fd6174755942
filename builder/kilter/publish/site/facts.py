"""The small facts under a heading: what is exposed, what must be true before, where values come from."""

from __future__ import annotations

from kilter.model.document import Field, Stage, Step
from kilter.publish.site.markup import NOTHING, Html, el, join, text
from kilter.publish.view import Must, StepView

SHOWN = {"zone": "Works in", "clear-of": "Out of reach", "switch": "Switch"}
"""Fields that are checked and belong to nothing else on the page: the reader sees what was checked."""


LIVE = "live"
"""The word of the analysis for a source that nobody has cut off on every way here."""


def strip_html(strip: tuple[Must, ...]) -> Html:
    """What must be true before the step, and what may still be live. It never says that anything was done.

    Nobody has to make a source live because the strip names it: those stand apart.
    """
    held = [m for m in strip if m.state != LIVE]
    live = [m for m in strip if m.state == LIVE]
    rows = [_row("Must be", held, True), _row("Treat as live", live, False)]
    body = join(row for row in rows if row)
    return el("div", body, cls="strip") if body else NOTHING


def _row(label: str, entries: list[Must], states: bool) -> Html:
    items = (el("li", el("b", text(m.source)), text(f" {m.state}" if states else "")) for m in entries)
    return el("div", el("span", text(label)), el("ul", *items)) if entries else NOTHING


def hands_html(view: StepView) -> Html:
    if not view.hands:
        return NOTHING
    why = _reason(view.step.field("hands"))
    words = f"Hands: {view.hands}" if not view.hands.startswith("hands") else view.hands.capitalize()
    return el("p", text(words), el("small", text(f" – {why}")) if why else NOTHING, cls="hands")


def fields_html(of: Stage | Step) -> Html:
    """Zone, exemptions and switch, in the author's words."""
    rows = (el("li", text(f"{SHOWN[f.name]}: {f.value}")) for f in of.fields if f.name in SHOWN)
    body = join(rows)
    return el("ul", body, cls="facts") if body else NOTHING


def origin_html(origin: str) -> Html:
    return el("p", text(f"Values from: {origin}"), cls="origin") if origin else NOTHING


def _reason(field: Field | None) -> str:
    """What stands after the dash of `controls - the cover is off`."""
    if field is None:
        return ""
    for dash in (" - ", " – ", " — "):
        _, found, why = field.value.partition(dash)
        if found:
            return why.strip()
    return ""
