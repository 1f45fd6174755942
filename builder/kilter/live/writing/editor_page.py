"""The markup of the editor, of the list of what can be written, and of a refusal."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote

from kilter.live.bench import Bench
from kilter.live.shell import shell
from kilter.live.web import Response
from kilter.live.writing.store import Held
from kilter.publish.site.markup import NOTHING, Html, el, join, link, some, text

STALE = "The file has changed on the disk since it was opened here. Saving shows both texts and overwrites nothing."
STYLE = "/writing/writing.css"
SNIPPETS = {
    "Warning": ":::{warning} [fill in: which source]\n**[fill in: the hazard].** It can [fill in: what happens to whom]. "
    "[fill in: how to avoid it].\n:::\n",
    "Proof": "[fill in: where and how it is measured, and below what]: {proves}`[fill in: which source]`\n\n"
    "- [fill in: what is seen at zero]: [[fill in: the next step]](#[fill in: its anchor])\n"
    "- [fill in: anything else]: [[fill in: the step that stops the work]](#[fill in: its anchor]) {not-zero}\n",
    "Answers": "- [fill in: what is seen]: [[fill in: the step it leads to]](#[fill in: its anchor])\n"
    "- [fill in: anything else]: [[fill in: the step it leads to]](#[fill in: its anchor])\n",
    "Picture": ":::{figure} pictures/[fill in: file name]\n:id: [fill in: short name]\n:alt: [fill in: what is to be seen]\n"
    ":1: [fill in: x,y] [fill in: name of the item]\n:::\n",
    "Wait": "Wait {wait}`[fill in: time]`.",
}
"""What the buttons put in; every gap is a marked blank."""


def module(name: str) -> Html:
    """A script of ours."""
    return el("script", type="module", src=f"/writing/{name}")


def editor_page(bench: Bench, name: str, file: Path, held: Held) -> Response:
    with bench.lock:
        shown = bench.workspace.shown(file)
        document = bench.workspace.library.documents.get(shown)
    form = f"/new/equipment/{quote(name)}" if document is not None and document.is_profile else ""
    body = el(
        "div",
        _head(name, form),
        el("p", text(STALE), id="write-stale", role="status", hidden="hidden"),
        el("div", id="write-messages", role="status"),
        el("div", _pane(held.text), _aside(), cls="write-panes"),
        module("editor.js"),
        id="write",
        data_path=name,
        data_hash=held.hash,
    )
    return shell(bench, f"Write {name}", body, "Write", shown, styles=(STYLE,), swap=False)


def _head(name: str, form: str) -> Html:
    return el(
        "div",
        el("h1", text(name)),
        el("button", text("Save"), type="button", id="write-save", cls="main"),
        el("span", text("As on the disk"), id="write-state", role="status"),
        link(form, text("Answer it as a form"), cls="as-button") if form else NOTHING,
        cls="write-head",
    )


def _pane(words: str) -> Html:
    buttons = [
        el("button", text(label), type="button", data_snippet=snippet) for label, snippet in SNIPPETS.items()
    ]
    offer = el("button", text("What fits here?"), type="button", id="write-offer", title="Ctrl and space bar")
    blank = el("button", text("Next blank"), type="button", id="write-blank")
    label = el("label", text("Text of the document"), for_="write-text", cls="unseen")
    area = el(
        "textarea", Html("\n"), text(words), id="write-text", spellcheck="true", autocomplete="off",
        autocapitalize="off", wrap="soft", rows=30, aria_controls="write-offers", aria_autocomplete="list",
    )  # fmt: skip
    field = el("div", area, el("div", id="write-offers", role="listbox", hidden="hidden"), cls="write-field")
    return el(
        "div", el("div", join((*buttons, offer, blank)), cls="write-tools"), label, field, cls="write-pane"
    )


def _aside() -> Html:
    found = el("section", el("h2", text("Findings"), id="write-count"), el("ol", id="write-findings"))
    maybe = el(
        "details",
        el("summary", text("Words that may want a mark"), id="write-maybe-count"),
        el("ol", id="write-maybe"),
        id="write-maybe-box",
        hidden="hidden",
    )
    return el("aside", found, maybe, cls="write-aside", aria_label="What the check says")


def list_page(bench: Bench) -> Response:
    """Every document, to choose from."""
    with bench.lock:
        library = bench.workspace.library
        rows = []
        for path in bench.workspace.paths():
            document, name = library.documents.get(path), bench.name_of(path)
            title = document.front.title if document else "can't be read"
            rows.append((document.key.upper() if document else "", title, name))
    items = [
        el(
            "li",
            link(f"/write/{quote(name)}", el("b", text(key or "?")), text(f" {title}")),
            el("small", text(name)),
        )
        for key, title, name in sorted(rows)
        if name
    ]
    body = join((el("h1", text("Write")), el("ul", join(items), cls="write-list")))
    more = el(
        "p",
        link("/new", text("New document"), cls="as-button"),
        link("/new/equipment", text("New machine"), cls="as-button"),
    )
    return shell(bench, "Write", el("div", body, more, cls="forms"), "Write", styles=(STYLE,))


def refusal_page(bench: Bench, words: str, status: int, more: str = "") -> Response:
    """Why there is nothing to write here."""
    offer = el("p", link(more, text("Write a new document"), cls="as-button")) if more else None
    back = el("p", link("/write", text("All documents"), cls="as-button"))
    body = el(
        "div", some(el("h1", text("Nothing to write here")), el("p", text(words)), offer, back), cls="forms"
    )
    return shell(bench, "Write", body, "Write", styles=(STYLE,), status=status)
