"""The pages: which pictures there are, and the one to point into."""

from __future__ import annotations

from urllib.parse import quote

from kilter.live.bench import Bench
from kilter.live.shell import shell
from kilter.live.web import Request, Response
from kilter.model.document import Document
from kilter.model.text import Figure
from kilter.publish.site.markup import Html, el, join, link, text
from kilter.publish.view import DocumentView, figure_key
from kilter.read.figures import PLACES, WAYS

STYLES = ("/writing/writing.css", "/placing/placing.css")
TOOLS = {
    "item": "Item", "cover": "Cover", "crop": "Crop", "detail": "Detail", "motion": "Arrow", "scale": "Length",
}  # fmt: skip
TAB = "Pictures"


def listing(bench: Bench, request: Request) -> Response:
    """`/place/<path>`: the picture asked for by `figure`, or by `shown` as the page numbers it; else all of them."""
    name = request.path.removeprefix("/place").strip("/")
    file = bench.file_of(name) if name else None
    with bench.lock:
        library = bench.workspace.library
        path = bench.workspace.shown(file) if file else ""
        document = library.documents.get(path)
        if name and document is None:
            return _refusal(bench, "There is no such document here, or it can't be read at the moment.")
        if document is not None and "shown" in request.query:
            view = bench.site.shelf.facts.ask("view", path)
            found = _shown(view, document, request.query["shown"])
            if found is not None:
                owner, number = found
                return _one(bench, bench.name_of(owner.path), owner, number)
        if document is not None and request.query.get("figure", "").isdecimal():
            number = int(request.query["figure"])
            if 1 <= number <= len(document.pictures):
                return _one(bench, name, document, number)
        documents = [document] if document is not None else list(library.documents.values())
        if document is not None and (profile := library.profile_of(document)) is not None:
            documents = list({d.path: d for d in (document, profile)}.values())
        return _list(bench, documents, path)


def _shown(view: DocumentView | None, document: Document, number: str) -> tuple[Document, int] | None:
    """Whose picture, and which of its own, stands on the page as figure `number`."""
    owners = (
        [document] if view is None else [document, *{s.owner.path: s.owner for s in view.stages}.values()]
    )
    numbers = {} if view is None else view.figure_numbers
    for owner in owners:
        for at, picture in enumerate(owner.pictures, 1):
            if str(numbers.get(figure_key(owner, picture), "")) == number and picture in owner.figures:
                return owner, at
    return None


def _list(bench: Bench, documents: list[Document], path: str) -> Response:
    parts = [_of(bench, d) for d in sorted(documents, key=lambda d: d.path) if d.pictures]
    none = el("p", text("No figure yet. Write one with the button Picture in Write."))
    body = el("div", el("h1", text("Place by eye")), *(parts or [none]), cls="forms")
    return shell(bench, "Place by eye", body, TAB, path, styles=STYLES)


def _of(bench: Bench, document: Document) -> Html:
    name = bench.name_of(document.path)
    rows = (
        el("li", link(f"/place/{quote(name)}?figure={n}", el("b", text(p.path)), text(f" {p.alt or ''}")))
        for n, p in enumerate(document.pictures, 1)
    )
    return el("section", el("h2", text(document.front.title)), el("ul", *rows, cls="write-list"))


def _refusal(bench: Bench, words: str) -> Response:
    body = el("div", el("h1", text("Nothing to place here")), el("p", text(words)), cls="forms")
    return shell(bench, "Place by eye", body, TAB, styles=STYLES, status=404)


def _one(bench: Bench, name: str, document: Document, number: int) -> Response:
    picture = document.pictures[number - 1]
    source = f"/place-picture/{quote(name)}?figure={number}"
    board = el(
        "div",
        el("img", src=source, alt=picture.alt or "The picture", id="place-image", draggable="false"),
        el("div", id="place-drawn", aria_hidden="true"),
        id="place-board",
        tabindex="0",
        role="group",
        aria_label="Picture. Arrow keys move the cross by one pixel, with Shift by ten.",
    )
    body = el(
        "div",
        el("h1", text(f"Place by eye: {picture.path}")),
        el("p", text(_words(picture, name)), cls="soft"),
        el("div", id="place-messages", role="status"),
        el("div", board, el("div", _aim(), _form(), cls="place-side"), cls="place-panes"),
        el("section", el("h2", text("In the file")), el("ul", id="place-rows"), _acts()),
        el("script", type="module", src="/placing/placing.js"),
        id="place",
        cls="forms",
        data_path=name,
        data_figure=number,
        data_picture=source,
    )
    title = f"Place by eye: {picture.path}"
    return shell(bench, title, body, TAB, document.path, styles=STYLES, swap=False)


def _words(picture: Figure, name: str) -> str:
    return (
        f"In {name}, line {picture.path_span.line}. The whole picture is shown, also what is cropped off or covered later. "
        "Tap a place, then move the cross with the arrows or by dragging in the loupe."
    )


def _aim() -> Html:
    """The loupe with the four arrows, and the place in numbers."""
    keys = (
        el("button", text(sign), type="button", data_move=move, aria_label=f"Cross {word}", cls=f"move {word}")
        for sign, move, word in (
            ("↑", "0,-1", "up"), ("←", "-1,0", "left"), ("→", "1,0", "right"), ("↓", "0,1", "down"),
        )
    )  # fmt: skip
    return el(
        "div",
        el("canvas", id="place-loupe", width=320, height=320, aria_hidden="true"),
        el("div", *keys, el("output", id="place-at"), cls="place-keys"),
        cls="place-aim",
    )


def _choice(name: str, label: str, values: tuple[str, ...], of: str) -> Html:
    options = (el("option", text(v)) for v in values)
    return el("label", text(label), el("select", *options, id=f"place-{name}"), data_of=of)


def _input(name: str, label: str, of: str, mode: str = "text") -> Html:
    field = el("input", id=f"place-{name}", inputmode=mode, autocomplete="off")
    return el("label", text(label), field, data_of=of)


def _form() -> Html:
    tools = (
        el("label", el("input", type="radio", name_="place-tool", value=key, checked="" if key == "item" else None),
           text(f" {word}"))
        for key, word in TOOLS.items()
    )  # fmt: skip
    return el(
        "div",
        el("fieldset", el("legend", text("What")), *tools, cls="place-tools"),
        el("div", _input("number", "Number", "item", "numeric"), _input("label", "Name", "item"),
           _choice("kind", "Movement", ("turn", "push", "pull", "slide"), "motion"),
           _choice("way", "Way", WAYS, "motion"), _input("amount", "How far (may be empty)", "motion"),
           _choice("corner", "Shown in the corner", PLACES, "detail"),
           _input("times", "Times as large", "detail", "decimal"),
           _input("length", "Length, such as 50 mm", "scale"), cls="place-fields"),
        el("button", text("First corner here"), type="button", id="place-first", hidden="hidden"),
        el("label", text("Line for the file"), el("input", id="place-line", readonly="readonly")),
        el("p", el("button", text("Copy"), type="button", id="place-copy"),
           el("button", text("Write into the file"), type="button", id="place-save", cls="main"), cls="place-acts"),
        cls="place-form",
    )  # fmt: skip


def _acts() -> Html:
    buttons = (
        el("button", text(words), type="button", id=f"place-{id}", hidden="hidden")
        for id, words in (
            ("new", "New line"), ("remove", "Remove this line"), ("clockwise", "Number clockwise"), ("undo", "Undo"),
        )
    )  # fmt: skip
    return join(
        [el("p", *buttons, cls="place-acts"), el("p", id="place-unordered", cls="soft", hidden="hidden")]
    )
