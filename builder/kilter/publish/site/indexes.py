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
from kilter.publish.site.terms import author, task_word, written
from kilter.publish.site.words import word
from kilter.publish.view import DocumentView, equipment_address

EQUIPMENT, SYMPTOMS, NUMBERS = "by-equipment.html", "by-symptom.html", "by-number.html"


def by_equipment(profiles: Sequence[Document], views: Sequence[DocumentView]) -> Page:
    parts = [el("h1", text(word("list.by-equipment")))]
    for profile in sorted(profiles, key=lambda p: fold(p.profile.title)):
        front = profile.profile
        own = [v for v in views if v.equipment.id == front.id]
        parts.append(el("h2", link(equipment_address(front.id), written(front.title)), id=f"{front.id}"))
        parts.append(document_list(own) if own else el("p", text(word("machine.none-yet"))))
    return Page(EQUIPMENT, word("list.by-equipment"), join(parts))


def by_symptom(views: Sequence[DocumentView]) -> Page:
    """A to Z. Synonyms are searched and never printed."""
    rows = sorted(
        ((s.symptom, v) for v in views if isinstance(v.front, ProcedureFront) for s in v.front.symptoms),
        key=lambda row: (fold(row[0]), row[1].number),
    )
    letters: dict[str, list[Html]] = {}
    for symptom, view in rows:
        letters.setdefault(_letter(symptom), []).append(_symptom_row(symptom, view))
    parts = [el("h1", text(word("list.by-symptom"))), _letters(letters)]
    for letter, items in letters.items():
        parts += [el("h2", text(letter), id=f"letter-{letter.lower()}"), el("ul", *items, cls="documents")]
    return Page(SYMPTOMS, word("list.by-symptom"), join(parts))


def _letter(words: str) -> str:
    first = words.strip()[:1].upper()
    return first if first.isalpha() else "0-9"


def _letters(letters: Iterable[str]) -> Html:
    links = join((link(f"#letter-{each.lower()}", text(each)) for each in letters), SPACE)
    return el("p", links, cls="letters") if links else el("p", text(word("list.no-symptom")))


def _symptom_row(symptom: str, view: DocumentView) -> Html:
    machine = author(text(view.equipment.title))
    where = el("small", text(f"{view.number}, "), machine, text(f", {task_word(view)}"))
    return el("li", link(view.address, written(symptom)), SPACE, where)


def by_number(views: Sequence[DocumentView]) -> Page:
    rows = (
        [
            link(v.address, el("b", text(v.number)), SPACE, written(v.front.title)),
            written(v.equipment.title),
            text(task_word(v)),
            text(v.front.revision),
        ]
        for v in views
    )
    body = table(
        [word(f"list.{key}") for key in ("document", "equipment", "task", "revision")], rows, "stack list"
    )
    return Page(NUMBERS, word("list.by-number"), join([el("h1", text(word("list.by-number"))), body]))


def withheld_page(withheld: Sequence[Withheld]) -> Page:
    """Which documents are not published, and what to mend."""
    parts = [el("h1", text(word("withheld.title")))]
    if not withheld:
        parts.append(el("p", text(word("withheld.none"))))
    else:
        parts.append(el("p", text(word("withheld.why"))))
    parts += [_withheld(each) for each in withheld]
    return Page(WITHHELD, word("withheld.title"), join(parts))


def _withheld(each: Withheld) -> Html:
    why = NOTHING
    if each.because_of:
        why = el("p", text(word("withheld.profile", path=each.because_of)))
    elif not each.errors:
        why = el("p", text(word("withheld.no-profile")))
    errors = el("ul", *(_error(e) for e in each.errors), cls="errors") if each.errors else NOTHING
    path = el("p", el("code", text(each.path)))
    return el("section", el("h2", written(each.name)), path, why, errors)


def _error(found: Diagnostic) -> Html:
    place = word("withheld.place", line=found.span.line, column=found.span.column)
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
