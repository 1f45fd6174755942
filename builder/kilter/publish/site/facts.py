"""The small facts under a heading: what is exposed, what must be true before, where values come from."""

from __future__ import annotations

from kilter.model.document import Field, Stage, Step
from kilter.publish.site.markup import NOTHING, Html, el, join, text
from kilter.publish.view import Must, StepView

SHOWN = {"zone": "Works in", "clear-of": "Out of reach", "switch": "Switch"}
"""Fields that are checked and belong to nothing else on the page: the reader sees what was checked."""


def strip_html(strip: tuple[Must, ...]) -> Html:
    """What must be true before the step. It never says that anything was done."""
    if not strip:
        return NOTHING
    entries = (el("li", el("b", text(m.source)), text(f" {m.state}")) for m in strip)
    return el("div", el("span", text("Must be")), el("ul", *entries), cls="strip")


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
