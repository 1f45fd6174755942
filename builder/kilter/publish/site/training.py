"""Pages for the educator: the list of modules, and what each gives."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.model.training import Lesson, Objective, TrainingFront
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, some, text
from kilter.publish.site.page import DOCUMENT, Page
from kilter.publish.site.quiz import quiz_address
from kilter.publish.site.terms import author, written
from kilter.publish.site.words import count, word
from kilter.publish.training.taught import Taught, training_address
from kilter.publish.view import DRAFT, DocumentView

LIST, FOLDER = "training.html", "training"
PACKAGES = {
    "-scorm12.zip": "scorm", "-qti21.zip": "qti", "-questions.gift.txt": "gift", "-questions.csv": "csv",
    "papers.json": "papers",
}  # fmt: skip


def training_list(fronts: Iterable[TrainingFront]) -> Page:
    rows = [
        el(
            "li",
            link(
                training_address(front.number),
                el("b", text(front.number)),
                SPACE,
                written(front.title),
            ),
        )
        for front in fronts
    ]
    body = el("ul", *rows, cls="documents") if rows else el("p", text(word("training.none")))
    parts = [el("h1", text(word("training.title"))), el("p", text(word("training.about"))), body]
    return Page(LIST, word("training.title"), join(parts))


def training_page(taught: Taught) -> Page:
    front = taught.module.front
    body = some(
        _title(taught),
        el("p", el("b", text(word("training.draft"))), cls="standing"),
        _practice(taught),
        _files(taught),
        el("h2", text(word("training.objectives")), id="objectives."),
        el("dl", *(_objective(taught, name, o) for name, o in front.objectives.items()), cls="objectives"),
        el("h2", text(word("training.lessons")), id="lessons."),
        _lessons(taught.module.lessons),
        el("h2", text(word("training.paper")), id="paper."),
        _paper(taught),
        el("h2", text(word("training.covers")), id="covers."),
        el("ul", *(_covered(v) for v in taught.views.values()), cls="documents"),
    )
    return Page(training_address(front.number), f"{front.number} {front.title}", body, DOCUMENT)


def _title(taught: Taught) -> Html:
    front = taught.module.front
    cells = [
        ("training.number", front.number), ("training.revision", front.revision), ("training.status", DRAFT),
        ("training.date", front.date.isoformat() if front.date else ""), ("training.writers", ", ".join(front.writers)),
        ("training.audience", front.audience or ""), ("training.sessions", _sessions(front.sessions)),
        ("training.people", word("training.people-words", trainees=front.trainees, machines=front.machines)),
        ("training.pass", f"{front.pass_mark} %"),
        ("training.revalidate", count("training.months", front.revalidate) if front.revalidate else ""),
    ]  # fmt: skip
    rows = (
        el("div", el("dt", text(word(key))), el("dd", author(text(value)))) for key, value in cells if value
    )
    return el("header", el("h1", written(front.title)), el("dl", *rows, cls="cells"), cls="title-block")


def _sessions(minutes: tuple[int, ...]) -> str:
    return " + ".join(word("training.minutes", n=n) for n in minutes)


def _files(taught: Taught) -> Html:
    """Links to what trainees may have; what holds answers is told by where the build put it."""
    opened = [name for name in taught.files if name in taught.open]
    kept = [name for name in taught.files if name not in taught.open]
    rows = (el("li", link(f"{FOLDER}/{taught.folder}/{n}", text(taught.labels.get(n, n)))) for n in opened)
    names = (el("li", text(f"{_label(taught, n)}: "), el("code", text(n))) for n in kept)
    place = f"out/{FOLDER}/{taught.folder}/"
    return some(
        el("h2", text(word("training.sheets")), id="sheets."),
        el("ul", *rows, cls="documents"),
        el("h2", text(word("training.kept")), id="kept."),
        el("p", text(word("training.kept-why", place=place))),
        el("ul", *names),
    )


def _practice(taught: Taught) -> Html:
    address = quiz_address(taught.module.front.number)
    return el("p", link(address, text(word("quiz.link"))), cls="cards") if taught.quiz else NOTHING


def _label(taught: Taught, name: str) -> str:
    """What a file is; packages are known by the end of their names."""
    kind = next((kind for ending, kind in PACKAGES.items() if name.endswith(ending)), "")
    return word(f"training.file.{kind}") if kind else taught.labels.get(name, name)


def _objective(taught: Taught, name: str, objective: Objective) -> Html:
    steps = [c for c in taught.context.covered.values() if name in taught.context.objectives_of(c)]
    asked = sum(name in q.objectives for paper in taught.papers for q in paper.questions)
    said = count("training.steps", len(steps)) + ", " + count("training.asked", asked)
    return el("div", el("dt", author(text(objective.text))), el("dd", text(said)))


def _lessons(lessons: tuple[Lesson, ...]) -> Html:
    rows = [
        (
            written(x.title),
            text(word("training.minutes", n=x.minutes) if x.minutes else ""),
            text(", ".join(x.objectives)),
        )
        for x in lessons
    ]
    return el("ol", *(el("li", title, SPACE, minutes) for title, minutes, _ in rows))


def _paper(taught: Taught) -> Html:
    kinds = (el("li", text(word(f"training.kind.{kind}") + f": {n}")) for kind, n in taught.allowed.items())
    codes = ", ".join(paper.code for paper in taught.papers)
    total = sum(taught.allowed.values())
    wanted = taught.module.front.paper.questions
    short = el("p", text(word("training.too-few", n=total, wanted=wanted))) if total < wanted else NOTHING
    return some(
        el("p", text(word("training.papers", codes=codes))),
        short,
        el("p", text(word("training.allowed"))),
        el("ul", *kinds),
    )


def _covered(view: DocumentView) -> Html:
    return el(
        "li",
        link(
            view.address,
            el("b", text(view.number)),
            SPACE,
            text(view.front.revision),
            SPACE,
            written(view.front.title),
        ),
    )


__all__ = ["FOLDER", "LIST", "training_list", "training_page"]
