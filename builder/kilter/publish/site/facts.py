"""The small facts under a heading: what is exposed, what must be true before, where values come from."""

from __future__ import annotations

from kilter.model.document import Stage, Step
from kilter.publish.site.markup import NOTHING, Html, el, join, text
from kilter.publish.site.terms import author, field_words, hands_words, state_word, strip_label
from kilter.publish.site.words import theirs, word
from kilter.publish.view import SHOWN_FIELDS, Must, StepView, StripRow, hands_reason, strip_rows


def strip_html(strip: tuple[Must, ...]) -> Html:
    """What must be true before the step, and what may still be live. It never says that anything was done."""
    rows = strip_rows(strip)
    return el("div", *map(_row, rows), cls="strip") if rows else NOTHING


def _row(row: StripRow) -> Html:
    items = (
        el("li", el("b", text(m.source), lang=theirs()), text(f" {state_word(m)}" if row.states else ""))
        for m in row.entries
    )
    return el("div", el("span", text(strip_label(row))), el("ul", *items))


def hands_html(view: StepView) -> Html:
    if not view.hands:
        return NOTHING
    why = hands_reason(view.step)
    return el(
        "p",
        text(hands_words(view)),
        el("small", text(" – "), author(text(why))) if why else NOTHING,
        cls="hands",
    )


def fields_html(of: Stage | Step) -> Html:
    """Zone, exemptions and switch, in the author's words."""
    rows = (el("li", field_words(f.name, f.value)) for f in of.fields if f.name in SHOWN_FIELDS)
    body = join(rows)
    return el("ul", body, cls="facts") if body else NOTHING


def origin_html(origin: str) -> Html:
    if not origin:
        return NOTHING
    label, _, rest = word("field.origin").partition("{words}")
    return el("p", text(label), author(text(origin)), text(rest), cls="origin")
