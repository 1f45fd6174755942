"""What a page holds so that its document can be worked through step by step on the phone."""

from __future__ import annotations

from kilter.publish.run.plan import plan_of, plan_script
from kilter.publish.site.markup import Html, el, join, text
from kilter.publish.site.words import word
from kilter.publish.view import DocumentView


def run_offer(view: DocumentView) -> Html:
    """The place where the script offers to begin, and the plan as a data block that nothing runs."""
    offer = el("div", id="run-offer", cls="run-offer", hidden="")
    without = el("noscript", el("p", text(word("run.needs"))))
    plan = el("script", Html(plan_script(plan_of(view))), type="application/json", id="plan")
    return join([offer, without, plan])
