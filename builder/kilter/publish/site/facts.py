"""The small facts under a heading: what is exposed, what must be true before, where values come from."""

from __future__ import annotations

from kilter.model.document import Stage, Step
from kilter.publish.site.markup import NOTHING, Html, el, join, text
from kilter.publish.view import Must, StepView, StripRow, hands_reason, shown_fields, strip_rows


def strip_html(strip: tuple[Must, ...]) -> Html:
    """What must be true before the step, and what may still be live. It never says that anything was done."""
    rows = strip_rows(strip)
    return el("div", *map(_row, rows), cls="strip") if rows else NOTHING


def _row(row: StripRow) -> Html:
    items = (
        el("li", el("b", text(m.source)), text(f" {m.state}" if row.states else "")) for m in row.entries
    )
    return el("div", el("span", text(row.label)), el("ul", *items))


def hands_html(view: StepView) -> Html:
    if not view.hands:
        return NOTHING
    why = hands_reason(view.step)
    words = f"Hands: {view.hands}" if not view.hands.startswith("hands") else view.hands.capitalize()
    return el("p", text(words), el("small", text(f" – {why}")) if why else NOTHING, cls="hands")


def fields_html(of: Stage | Step) -> Html:
    """Zone, exemptions and switch, in the author's words."""
    rows = (el("li", text(line)) for line in shown_fields(of))
    body = join(rows)
    return el("ul", body, cls="facts") if body else NOTHING


def origin_html(origin: str) -> Html:
    return el("p", text(f"Values from: {origin}"), cls="origin") if origin else NOTHING
