"""The page of a procedure or pre-use check."""

from __future__ import annotations

from collections.abc import Callable, Collection

from kilter.model.base import fold
from kilter.model.document import Stage, Step
from kilter.publish.cards.family import kinds_for
from kilter.publish.site import head
from kilter.publish.site.blocks import blocks_html
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.site.page import DOCUMENT, Page
from kilter.publish.site.pictures import Pictures
from kilter.publish.site.printed import print_list
from kilter.publish.site.running import run_offer, standing_place
from kilter.publish.site.scope import Directory, Place, Scope, no_remark
from kilter.publish.site.states import states_link
from kilter.publish.site.steps import stages_html
from kilter.publish.site.terms import as_written, author, task_word
from kilter.publish.site.words import word
from kilter.publish.view import DocumentView


def document_page(
    view: DocumentView,
    directory: Directory,
    pictures: Pictures,
    cards: Collection[str],
    remark: Callable[[Stage | Step], Html] = no_remark,
    published: bool = True,
) -> Page:
    """`published`: whether there is a list of what is in force for the page to ask."""
    scope = Scope(
        directory,
        view.document,
        pictures.drawer(view.figure_numbers),
        _steps(view),
        _figures(view),
        view.profile,
        remark,
    )
    body = some(
        standing_place(view) if published else NOTHING,
        head.title_block(view, run_offer(view)),
        head.standing(),
        print_list(view.address, kinds_for(view), cards),
        head.facts(view),
        as_written(blocks_html(view.document.blocks, scope)),
        head.symptoms(view),
        _section(word("head.energy"), "energy.", head.energy(view.energy)),
        _section(word("head.kit"), "kit.", head.kit(view.kit)),
        _contents(view),
        stages_html(view, scope),
        states_link(view),
    )
    title = f"{view.number} {view.front.title}"
    return Page(view.address, title, body, DOCUMENT, f"{task_word(view)}, {view.equipment.title}")


def _section(title: str, id: str, body: Html) -> Html:
    """Fixed ids end in a dot, which the anchor of a step never does."""
    return join([el("h2", text(title), id=id), body]) if body else NOTHING


def _steps(view: DocumentView) -> dict[Place, tuple[str, str]]:
    """Shared stages first: where a step has the same name, the step is meant."""
    found = {(s.owner.path, s.stage.slug): (s.anchor, s.number) for s in view.stages if s.stage.shared}
    for stage in view.stages:
        found |= {(s.owner.path, s.step.slug): (s.anchor, s.number) for s in stage.steps}
    return found


def _figures(view: DocumentView) -> dict[Place, int]:
    named = ((key.rpartition("#"), n) for key, n in view.figure_numbers.items())
    return {(path, fold(id)): n for (path, hash, id), n in named if hash}


def _contents(view: DocumentView) -> Html:
    rows = (
        el("li", link(f"#{s.anchor}", el("b", text(s.number)), SPACE, author(text(s.stage.title))))
        for s in view.stages
    )
    shared = view.stages and view.stages[0].stage.shared
    first = next((s for s in view.stages if not s.stage.shared and s.steps), None)
    start = NOTHING
    if shared and first:
        step = first.steps[0]
        start = el(
            "p",
            text(word("head.start-at")),
            link(f"#{step.anchor}", text(word("head.step", number=step.number))),
            text("."),
        )
    return el(
        "nav",
        el("h2", text(word("head.stages")), id="stages."),
        start,
        el("ul", *rows),
        cls="contents",
        aria_label=word("head.stages"),
    )
