"""The reviewer's page of a document: the states before every step, and the ways in."""

from __future__ import annotations

from kilter.check.flow import Analysis
from kilter.publish.site.markup import Html, el, link, some, text
from kilter.publish.site.page import STATES, Page
from kilter.publish.site.words import word
from kilter.publish.states.body import body
from kilter.publish.states.table import states_of
from kilter.publish.view import STANDING, DocumentView, states_address


def states_page(view: DocumentView, analysis: Analysis) -> Page:
    """Linked from the end of the document's page; not in the search."""
    table = states_of(view, analysis)
    title = f"{view.number}: states step by step"
    back = link(view.address, text(f"{view.number} {view.front.title}"))
    opening = el("p", text("For the reviewer of "), back, text(f", revision {view.front.revision}."))
    content = some(
        el("h1", text(title)), opening, el("p", text(STANDING), cls="standing"), body(table, view.address)
    )
    return Page(states_address(view.number), title, content, STATES, "For the reviewer", language="en")


def states_link(view: DocumentView) -> Html:
    words = text(word("head.states"))
    return el("p", link(states_address(view.number), words), cls="cards")
