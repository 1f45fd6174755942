"""The lists: by equipment, by symptom, by number; and what is withheld."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from kilter.diagnostic import Diagnostic
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import ProcedureFront
from kilter.publish.prepare import Withheld
from kilter.publish.site.equipment import document_list
from kilter.publish.site.head import table
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.site.page import Page
from kilter.publish.site.scope import WITHHELD
from kilter.publish.view import DocumentView, equipment_address

EQUIPMENT, SYMPTOMS, NUMBERS = "by-equipment.html", "by-symptom.html", "by-number.html"


def by_equipment(profiles: Sequence[Document], views: Sequence[DocumentView]) -> Page:
    parts = [el("h1", text("By equipment"))]
    for profile in sorted(profiles, key=lambda p: fold(p.profile.title)):
        front = profile.profile
        own = [v for v in views if v.equipment.id == front.id]
        parts.append(el("h2", link(equipment_address(front.id), text(front.title)), id=f"{front.id}"))
        parts.append(document_list(own) if own else el("p", text("There is no procedure for it yet.")))
    return Page(EQUIPMENT, "By equipment", join(parts))


def by_symptom(views: Sequence[DocumentView]) -> Page:
    """A to Z. Synonyms are searched and never printed."""
    rows = sorted(
        ((s.symptom, v) for v in views if isinstance(v.front, ProcedureFront) for s in v.front.symptoms),
        key=lambda row: (fold(row[0]), row[1].number),
    )
    letters: dict[str, list[Html]] = {}
    for symptom, view in rows:
        letters.setdefault(_letter(symptom), []).append(_symptom_row(symptom, view))
    parts = [el("h1", text("By symptom")), _letters(letters)]
    for letter, items in letters.items():
        parts += [el("h2", text(letter), id=f"letter-{letter.lower()}"), el("ul", *items, cls="documents")]
    return Page(SYMPTOMS, "By symptom", join(parts))


def _letter(words: str) -> str:
    first = words.strip()[:1].upper()
    return first if first.isalpha() else "0-9"


def _letters(letters: Iterable[str]) -> Html:
    links = join((link(f"#letter-{each.lower()}", text(each)) for each in letters), SPACE)
    return el("p", links, cls="letters") if links else el("p", text("No procedure names a symptom yet."))


def _symptom_row(symptom: str, view: DocumentView) -> Html:
    where = f", {view.equipment.title}, {view.task.lower()}"
    return el("li", link(view.address, text(symptom)), text(" "), el("small", text(f"{view.number}{where}")))


def by_number(views: Sequence[DocumentView]) -> Page:
    rows = (
        [
            link(v.address, el("b", text(v.number)), SPACE, text(v.front.title)),
            text(v.equipment.title),
            text(v.task),
            text(v.front.revision),
        ]
        for v in views
    )
    body = table(["Document", "Equipment", "Task", "Rev."], rows, "stack list")
    return Page(NUMBERS, "By number", join([el("h1", text("By number")), body]))


def withheld_page(withheld: Sequence[Withheld]) -> Page:
    """Which documents are not published, and what to mend."""
    parts = [el("h1", text("Not published"))]
    if not withheld:
        parts.append(el("p", text("Every document of this library passed the check.")))
    else:
        words = "These documents have errors. They are not on this site until the errors are mended."
        parts.append(el("p", text(words)))
    parts += [_withheld(each) for each in withheld]
    return Page(WITHHELD, "Not published", join(parts))


def _withheld(each: Withheld) -> Html:
    why = NOTHING
    if each.because_of:
        why = el("p", text(f"Its equipment profile has errors: {each.because_of}"))
    elif not each.errors:
        why = el("p", text("Its equipment profile is missing."))
    errors = el("ul", *(_error(e) for e in each.errors), cls="errors") if each.errors else NOTHING
    path = el("p", el("code", text(each.path)))
    return el("section", el("h2", text(each.name)), path, why, errors)


def _error(found: Diagnostic) -> Html:
    place = f"line {found.span.line}, column {found.span.column}: "
    rule = (
        link(f"rule-{found.rule}.html", text(f"{found.code} {found.rule}".strip())) if found.code else NOTHING
    )
    return el(
        "li",
        text(place),
        el("b", text(found.message)),
        some(el("br"), text(f"{found.why} ") if found.why else NOTHING, text(found.help))
        if found.help
        else NOTHING,
        el("br") if found.code else NOTHING,
        rule,
    )
