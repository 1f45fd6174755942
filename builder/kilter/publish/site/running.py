"""What a page holds so that its document can be worked through step by step on the phone."""

from __future__ import annotations

from kilter.publish.run.plan import plan_of, plan_script
from kilter.publish.site.markup import Html, el, join, some, text
from kilter.publish.site.page import DOCUMENT, Page
from kilter.publish.site.words import word
from kilter.publish.view import DocumentView


def standing_place(view: DocumentView) -> Html:
    """Where the script says whether the page is in force."""
    return el("div", id="standing", hidden="", role="status", data_days=view.shelf_days)


def run_offer(view: DocumentView) -> Html:
    """The place where the script offers to begin, and the plan as a data block that nothing runs."""
    offer = el("div", id="run-offer", cls="run-offer", hidden="")
    without = el("noscript", el("p", text(word("run.needs"))))
    plan = el("script", Html(plan_script(plan_of(view))), type="application/json", id="plan")
    return join([offer, without, plan])


def shelf_page(days: int) -> Page:
    """What is kept on the phone, and its records; the script fills it."""
    body = some(
        el("h1", text(word("offline.title"))),
        el("p", text(word("offline.about"))),
        el("noscript", el("p", text(word("offline.missing")))),
        el("div", id="shelf", data_days=days),
        el("script", src="assets/words-shelf.js", defer=""),
        el("script", src="assets/shelf.js", defer=""),
    )
    return Page("shelf.html", word("offline.title"), body, DOCUMENT)
