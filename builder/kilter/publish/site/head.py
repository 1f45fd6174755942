"""The head of a document: title block, facts, energy table, kit."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.model.front import ProcedureFront
from kilter.publish.site.energies import isolate_html, prove_html, release_html
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.site.terms import kind_word, task_word, written
from kilter.publish.site.words import theirs, word
from kilter.publish.view import DocumentView, EnergyRow, KitRow, equipment_address

Cell = tuple[str, Html]


def cells(rows: Iterable[Cell], cls: str) -> Html:
    """Label and value, one cell each, as in a drawing's title block."""
    return el("dl", *(el("div", el("dt", text(k)), el("dd", v)) for k, v in rows if v), cls=cls)


def title_block(view: DocumentView, offer: Html = NOTHING) -> Html:
    """`offer`: what can be begun here; it stands where the first screen of a phone shows it."""
    front, equipment = view.front, view.equipment
    rows: list[Cell] = [
        (word("head.equipment"), link(equipment_address(equipment.id), written(equipment.title))),
        (word("head.number"), el("b", text(view.number))),
        (word("head.revision"), el("b", text(front.revision))),
        (word("head.status"), el("b", text(word("head.draft")), cls="draft")),
        (word("head.date"), text(front.date.isoformat() if front.date else "")),
        (word("head.applies-to"), written(", ".join(front.applies_to))),
        (word("head.task"), text(task_word(view))),
        (word("head.writers"), text(", ".join(front.writers))),
        (word("head.hash"), el("code", text(view.short_hash))),
    ]
    return el(
        "header", el("h1", text(front.title), lang=theirs()), offer, cells(rows, "cells"), cls="title-block"
    )


def standing() -> Html:
    return el("p", text(word("site.standing")), cls="standing")


def facts(view: DocumentView) -> Html:
    """People, weight, protective gear, minutes; a check has none of them."""
    front = view.front
    if not isinstance(front, ProcedureFront):
        return NOTHING
    weight = word("head.lifted", n=f"{front.weight:g}") if front.weight else ""
    rows = [
        (word("head.time"), text(word("head.minutes", n=front.time) if front.time else "")),
        (word("head.people"), text(str(front.people) if front.people else "")),
        (word("head.weight"), text(weight)),
        (word("head.protective"), written(", ".join(front.protective))),
    ]
    return cells(rows, "cells facts-cells") if any(v for _, v in rows) else NOTHING


def symptoms(view: DocumentView) -> Html:
    front = view.front
    if not isinstance(front, ProcedureFront) or not front.symptoms:
        return NOTHING
    rows = (el("li", text(s.symptom), lang=theirs()) for s in front.symptoms)
    return join([el("h2", text(word("head.noticed")), id="symptoms."), el("ul", *rows)])


def table(columns: list[str], rows: Iterable[list[Html]], cls: str) -> Html:
    """A table whose rows become blocks on a narrow screen, each value under its column's name."""
    head = el("tr", *(el("th", text(c), scope="col", role="columnheader") for c in columns), role="row")
    body = (
        el(
            "tr",
            *(el("td", v, role="cell", data_label=columns[n]) for n, v in enumerate(row)),
            role="row",
        )
        for row in rows
    )
    return el(
        "table",
        el("thead", head, role="rowgroup"),
        el("tbody", *body, role="rowgroup"),
        cls=cls,
        role="table",
    )


def energy(rows: Iterable[EnergyRow]) -> Html:
    """Every source, and how each is cut off, let out and proved zero."""
    columns = [word(f"energy.{key}") for key in ("source", "kind", "word", "isolate", "release", "prove")]
    return table(columns, (_energy_row(row) for row in rows), "stack energy")


def _energy_row(row: EnergyRow) -> list[Html]:
    signal = row.source.word
    return [
        el("b", text(row.name), lang=theirs()),
        kind_word(row.source),
        el("span", text(word(f"signal.{signal}")), cls=f"signal {signal}"),
        isolate_html(row.source),
        release_html(row.source),
        prove_html(row.source),
    ]


def kit(rows: tuple[KitRow, ...]) -> Html:
    """Tools and parts, numbered; columns that nobody filled are left out."""
    if not rows:
        return NOTHING
    named = {
        word("kit.quantity"): [r.quantity for r in rows],
        word("kit.range"): [r.range for r in rows],
        word("kit.accuracy"): [r.accuracy for r in rows],
        word("kit.calibration"): [r.calibration for r in rows],
        word("kit.stock"): [r.stock for r in rows],
        word("kit.new"): [r.new.removeprefix("new ") for r in rows],
    }
    used = {label: values for label, values in named.items() if any(values)}
    body = (
        [
            text(str(n + 1)),
            some(el("b", text(row.name), lang=theirs()), SPACE, text(f"({word(f'kit.{row.kind}')})")),
            *(written(v[n]) for v in used.values()),
        ]
        for n, row in enumerate(rows)
    )
    return table([word("kit.no"), word("kit.name"), *used], body, "stack kit")
