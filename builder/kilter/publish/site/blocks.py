"""Blocks and signal-word panels as HTML."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.model.text import Block, Calculation, Listing, Panel, Paragraph, Quote, Table, Verbatim
from kilter.publish.site.calculations import calculation_html
from kilter.publish.site.inline import runs_html
from kilter.publish.site.markup import NOTHING, Html, el, join, text
from kilter.publish.site.scope import Scope
from kilter.publish.site.terms import author, own
from kilter.publish.site.words import ours, word
from kilter.publish.worked import answered

SIGN = Html(
    '<svg class="sign" viewBox="0 0 26 23" aria-hidden="true"><path d="M13 1.5 25 22H1Z"/>'
    '<path class="mark" d="M13 8.5v6.5M13 17.5v2.200"/></svg>'
)
"""The safety alert symbol; drawn, because a character for it looks different on every phone."""


def blocks_html(blocks: Iterable[Block], scope: Scope) -> Html:
    return join(_block(block, scope) for block in blocks)


def _block(block: Block, scope: Scope) -> Html:
    if isinstance(block, Paragraph):
        return el("p", runs_html(block.runs, scope))
    if isinstance(block, Listing):
        return _listing(block, scope)
    if isinstance(block, Table):
        return _table(block, scope)
    if isinstance(block, Verbatim):
        return el("pre", el("code", text(block.text)), tabindex="0")
    if isinstance(block, Quote):
        return el("blockquote", blocks_html(block.blocks, scope))
    if isinstance(block, Panel):
        return panel_html(block, scope)
    if isinstance(block, Calculation):
        return calculation_html(answered(block, scope.directory.answer), blocks_html(block.caption, scope))
    return scope.draw(block, scope)


def _listing(block: Listing, scope: Scope) -> Html:
    items = (el("li", _item(item, scope)) for item in block.items)
    if block.ordered:
        return el("ol", *items, start=block.start if block.start != 1 else None)
    return el("ul", *items)


def _item(blocks: tuple[Block, ...], scope: Scope) -> Html:
    """A list item of one paragraph stands without a paragraph's distance."""
    if len(blocks) == 1 and isinstance(blocks[0], Paragraph):
        return runs_html(blocks[0].runs, scope)
    return blocks_html(blocks, scope)


def _table(block: Table, scope: Scope) -> Html:
    head = el("tr", *(el("th", runs_html(c.runs, scope), scope="col") for c in block.header))
    rows = (el("tr", *(el("td", runs_html(c.runs, scope)) for c in row)) for row in block.rows)
    return el("div", el("table", el("thead", head), el("tbody", *rows)), cls="wide", tabindex="0")


def panel_html(panel: Panel, scope: Scope, note: str = "") -> Html:
    """Word in a white field, safety colour beside it, thick frame: it survives a grey printer and a copier."""
    sign = NOTHING if panel.word == "notice" else SIGN
    sign_word = el("p", el("span", sign, text(word(f"signal.{panel.word}"))), cls="word", lang=ours())
    about = ", ".join(n.text for n in panel.sources)
    parts = [author(text(about))] if about else []
    parts += [own(text(note))] if note else []
    line = join(parts, text(" – "))
    return el(
        "div",
        sign_word,
        el("p", line, cls="about") if line else NOTHING,
        blocks_html(panel.blocks, scope),
        cls=f"panel {panel.word}",
        role="note",
        aria_label=word(f"signal.{panel.word}").capitalize(),
    )
