"""The head of a document: title block, facts, energy table, kit."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.model.front import ProcedureFront
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.view import DRAFT, STANDING, DocumentView, EnergyRow, KitRow, equipment_address

Cell = tuple[str, Html]


def cells(rows: Iterable[Cell], cls: str) -> Html:
    """Label and value, one cell each, as in a drawing's title block."""
    return el("dl", *(el("div", el("dt", text(k)), el("dd", v)) for k, v in rows if v), cls=cls)


def title_block(view: DocumentView) -> Html:
    front, equipment = view.front, view.equipment
    rows: list[Cell] = [
        ("Equipment", link(equipment_address(equipment.id), text(equipment.title))),
        ("Applies to", text(", ".join(front.applies_to))),
        ("Task", text(view.task)),
        ("Number", el("b", text(view.number))),
        ("Revision", el("b", text(front.revision))),
        ("Status", el("b", text(DRAFT), cls="draft")),
        ("Date", text(front.date.isoformat() if front.date else "")),
        ("Writers", text(", ".join(front.writers))),
        ("Content hash", el("code", text(view.short_hash))),
    ]
    return el("header", el("h1", text(front.title)), cells(rows, "cells"), cls="title-block")


def standing() -> Html:
    return el("p", text(STANDING), cls="standing")


def facts(view: DocumentView) -> Html:
    """People, weight, protective gear, minutes; a check has none of them."""
    front = view.front
    if not isinstance(front, ProcedureFront):
        return NOTHING
    weight = f"{front.weight:g} kg lifted at once" if front.weight else ""
    rows = [
        ("Time", text(f"{front.time} min" if front.time else "")),
        ("People", text(str(front.people) if front.people else "")),
        ("Weight", text(weight)),
        ("Protective gear", text(", ".join(front.protective))),
    ]
    return cells(rows, "cells facts-cells") if any(v for _, v in rows) else NOTHING


def symptoms(view: DocumentView) -> Html:
    front = view.front
    if not isinstance(front, ProcedureFront) or not front.symptoms:
        return NOTHING
    rows = (el("li", text(s.symptom)) for s in front.symptoms)
    return join([el("h2", text("What is noticed"), id="symptoms."), el("ul", *rows)])


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
    columns = ["Source", "Kind", "Word", "Isolate and hold", "Release", "Prove zero"]
    return table(columns, (_energy_row(row) for row in rows), "stack energy")


def _energy_row(row: EnergyRow) -> list[Html]:
    kind = row.source.kind if row.source.kind != "other" else row.source.why or "other"
    word = row.source.word
    return [
        el("b", text(row.name)),
        text(kind),
        el("span", text(word.upper()), cls=f"signal {word}"),
        text(row.isolate),
        text(row.release),
        text(row.prove),
    ]


def kit(rows: tuple[KitRow, ...]) -> Html:
    """Tools and parts, numbered; columns that nobody filled are left out."""
    if not rows:
        return NOTHING
    named = {
        "Quantity": [r.quantity for r in rows],
        "Range": [r.range for r in rows],
        "Accuracy": [r.accuracy for r in rows],
        "Calibration": [r.calibration for r in rows],
        "Stock number": [r.stock for r in rows],
        "New": [r.new.removeprefix("new ") for r in rows],
    }
    used = {label: values for label, values in named.items() if any(values)}
    body = (
        [
            text(str(n + 1)),
            some(el("b", text(row.name)), SPACE, text(f"({row.kind})")),
            *(text(v[n]) for v in used.values()),
        ]
        for n, row in enumerate(rows)
    )
    return table(["No.", "Tool or part", *used], body, "stack kit")
