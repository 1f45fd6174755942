"""The page of a machine: its energies, guards, zones, shared steps, and the procedures for it."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Sequence

from kilter.model.document import Answer, Document, Stage, Step
from kilter.model.front import ProfileFront
from kilter.model.text import Figure
from kilter.publish.cards.family import EQUIPMENT_KINDS
from kilter.publish.site import head
from kilter.publish.site.blocks import blocks_html
from kilter.publish.site.calculations import windows_html
from kilter.publish.site.facts import fields_html, origin_html
from kilter.publish.site.inline import runs_html
from kilter.publish.site.machinevalues import sources_html, switches_html
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.site.page import DOCUMENT, Page
from kilter.publish.site.pictures import Pictures
from kilter.publish.site.printed import print_list
from kilter.publish.site.scope import Directory, Scope, no_remark
from kilter.publish.site.terms import as_written, author, exit_word, task_word, written
from kilter.publish.site.words import theirs, word
from kilter.publish.view import DocumentView, EnergyRow, equipment_address, figure_key
from kilter.publish.window import step_windows


def equipment_page(
    profile: Document,
    views: Sequence[DocumentView],
    directory: Directory,
    pictures: Pictures,
    remark: Callable[[Stage | Step], Html] = no_remark,
    cards: Collection[str] = (),
) -> Page:
    front = profile.profile
    numbers = {figure_key(profile, f): n for n, f in enumerate(_all_figures(profile), 1)}
    ids = {(profile.path, f.id.casefold()): n for n, f in enumerate(_all_figures(profile), 1) if f.id}
    steps = {(profile.path, step.slug): (step.slug, "") for _, step in profile.all_steps()}
    scope = Scope(directory, profile, pictures.drawer(numbers), steps, ids, profile, remark)
    body = some(
        _title(front),
        head.standing(),
        print_list(equipment_address(front.id), EQUIPMENT_KINDS, cards),
        _procedures(front, views),
        as_written(blocks_html(profile.blocks, scope)),
        el("h2", text(word("head.energy")), id="energy."),
        head.energy(EnergyRow(name, source) for name, source in front.sources.items()),
        _none(front),
        sources_html(front),
        _lists(front),
        switches_html(front),
        join(stage_html(stage, scope) for stage in profile.stages),
    )
    return Page(equipment_address(front.id), front.title, body, DOCUMENT, word("machine.equipment"))


def _all_figures(profile: Document) -> list[Figure]:
    return list(profile.figures)


def _title(front: ProfileFront) -> Html:
    rows = [
        (word("machine.equipment"), el("code", text(front.id))),
        (word("head.date"), text(front.date.isoformat() if front.date else "")),
        (word("head.writers"), text(", ".join(front.writers))),
    ]
    return el(
        "header", el("h1", text(front.title), lang=theirs()), head.cells(rows, "cells"), cls="title-block"
    )


def _procedures(front: ProfileFront, views: Sequence[DocumentView]) -> Html:
    own = [v for v in views if v.equipment.id == front.id]
    tasks = list(dict.fromkeys(task_word(v) for v in own))
    parts = [el("h2", text(word("machine.procedures")), id="procedures.")]
    for task in tasks:
        parts.append(el("h3", text(task)))
        parts.append(document_list(v for v in own if task_word(v) == task))
    return join(parts) if own else el("p", text(word("machine.none-yet")))


def document_list(views: Iterable[DocumentView]) -> Html:
    """Number and title, one line each."""
    rows = (
        el(
            "li",
            link(v.address, el("b", text(v.number)), SPACE, author(text(v.front.title))),
            text(word("machine.revision", revision=v.front.revision)),
        )
        for v in views
    )
    return el("ul", *rows, cls="documents")


def _none(front: ProfileFront) -> Html:
    words = ", ".join(word(f"kind.{kind}") for kind in front.none)
    return el("p", text(word("machine.not-on", words=words))) if words else NOTHING


def _lists(front: ProfileFront) -> Html:
    rows = [
        (word("machine.guards"), written(", ".join(front.guards))),
        *(
            (word("machine.zone", zone=zone), text(word("machine.reaches", words=", ".join(reach))))
            for zone, reach in front.zones.items()
        ),
        (word("machine.before-service"), written(", ".join(front.before_service))),
    ]
    if not any(v for _, v in rows):
        return NOTHING
    return join([el("h2", text(word("machine.guards-zones")), id="guards."), head.cells(rows, "cells lines")])


def stage_html(stage: Stage, scope: Scope) -> Html:
    """A stage as its file has it, with nothing worked out."""
    note = el("p", text(word("machine.shared")), cls="callers") if stage.shared else NOTHING
    opening = some(
        el("h2", text(stage.title), lang=theirs(), id=f"stage.{stage.slug}"),
        scope.remark(stage),
        note,
        fields_html(stage),
        as_written(blocks_html(stage.blocks, scope)),
    )
    steps = (_step(n, step, stage, scope) for n, step in enumerate(stage.steps, 1))
    return el("section", el("div", opening, cls="opening"), *steps, cls="stage")


def _step(number: int, step: Step, stage: Stage, scope: Scope) -> Html:
    leave, origin = step.field("exit"), step.field("origin")
    body = some(
        as_written(blocks_html(step.blocks, scope)),
        windows_html(step_windows(step, stage, scope.profile.profile)) if scope.profile else NOTHING,
        origin_html(origin.value if origin else ""),
        el("ul", *(_answer(a, scope) for a in step.answers), cls="answers") if step.answers else NOTHING,
        el("p", text(word("steps.end", exit=exit_word(leave.value))), cls="exit end") if leave else NOTHING,
    )
    heading = el("h3", el("span", text(str(number)), cls="no"), SPACE, author(text(step.title)))
    remark = scope.remark(step)
    return el(
        "section", heading, remark, fields_html(step), el("div", body, cls="body"), cls="step", id=step.slug
    )


def _answer(answer: Answer, scope: Scope) -> Html:
    seen = el("span", runs_html(answer.seen, scope), cls="seen", lang=theirs())
    words = author(runs_html(answer.link.runs, scope))
    href = scope.href(answer.link.target)
    way = (
        link(href, words, cls="to")
        if href
        else el("span", words, el("small", text(word("steps.back"))), cls="to")
    )
    return el("li", seen, way, cls="answer failed" if answer.failure else "answer")
