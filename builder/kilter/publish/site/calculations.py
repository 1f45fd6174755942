"""Calculations and windows of switches as HTML."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.compute.calculation import InputError
from kilter.publish.drawings.ink import Picture
from kilter.publish.site.markup import NOTHING, Html, el, join, link, some, text
from kilter.publish.site.words import now, theirs
from kilter.publish.values import unbroken
from kilter.publish.window import WindowView
from kilter.publish.worked import MAKER_FIRST, Answered, Worked, trouble_words

CHECKED = "numbers.html"
"""Address of the page on how the calculations were checked."""
CHECKED_TITLE = "How these numbers were checked"


def english() -> str | None:
    """`lang` of what the calculators say: it comes in English only. None on an English page."""
    return "en" if now().language != "en" or theirs() else None


def calculation_html(answered: Answered, caption: Html) -> Html:
    """Inputs, lines, verdict, drawing, assumptions and cautions in view; formula and source folded away."""
    block, answer = answered
    if isinstance(answer, InputError):
        return el(
            "div", el("p", text(trouble_words(block, answer))), caption, cls="calc trouble", lang=english()
        )
    return el(
        "div",
        *worked_parts(answer, caption),
        cls="calc",
        role="group",
        aria_label=answer.title,
        lang=english(),
    )


def worked_parts(answer: Worked, caption: Html = NOTHING) -> list[Html]:
    rows = [
        el("p", el("b", text(answer.title)), cls="title"),
        caption,
        _given(answer),
        _lines(answer),
        el("p", text("Verdict: "), el("b", text(answer.verdict)), cls="verdict")
        if answer.verdict
        else NOTHING,
        picture_html(answer.picture),
        _listed("Assumed", answer.assumptions),
        _listed("Cautions", answer.cautions),
        _details(answer),
    ]
    return [row for row in rows if row]


def picture_html(picture: Picture | None) -> Html:
    """Our own SVG: every word in it was escaped where it was drawn."""
    return Html(picture.svg) if picture is not None else NOTHING


def _given(answer: Worked) -> Html:
    rows = join((text(f"{name.replace('-', ' ')} {value}") for name, value in answer.given), text("; "))
    return el("p", text("Given: "), rows, text("."), cls="given") if answer.given else NOTHING


def _lines(answer: Worked) -> Html:
    rows = (
        el(
            "tr",
            el("th", text(line.name), scope="row"),
            el("td", text(unbroken(line.text))),
            cls="main" if line.main else "",
        )
        for line in answer.lines
    )
    return el("table", el("tbody", *rows), cls="answer-lines")


def _listed(title: str, said: Iterable[str]) -> Html:
    rows = [el("li", text(each)) for each in said]
    return join([el("p", text(f"{title}:")), el("ul", *rows)]) if rows else NOTHING


def _details(answer: Worked) -> Html:
    body = some(
        el("p", text("Formula: "), el("code", text(answer.formula)), text(".")),
        el("p", text(f"Source: {answer.source}.")),
        el("p", text(MAKER_FIRST)),
        el("p", link(CHECKED, text(CHECKED_TITLE))),
    )
    return el("details", el("summary", text("Formula and source")), body)


def windows_html(windows: Iterable[WindowView]) -> Html:
    return join(window_html(each) for each in windows)


def window_html(view: WindowView) -> Html:
    """Where a switch may be set: numbers and words first, then the same drawn."""
    return el(
        "div",
        el("p", el("b", text(view.title)), text(f": {view.text}. {view.said}".rstrip())),
        picture_html(view.picture),
        cls="window",
        lang=english(),
        role="group",
        aria_label=view.title,
    )
