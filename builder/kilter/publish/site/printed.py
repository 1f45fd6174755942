"""The list of what can be printed, on the page of a document and of a machine."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from kilter.publish.cards.family import Kind, file_at
from kilter.publish.site.markup import NOTHING, Html, el, link, text
from kilter.publish.site.words import word

CARDS = "cards"
"""Folder of the site."""


def print_list(address: str, kinds: Iterable[Kind], cards: Collection[str]) -> Html:
    """Links to those of `cards` that belong to the page at `address`, in the order of `kinds`; shut, because nobody prints in a basement."""
    found = [(file_at(kind, address), word(f"card.{kind.name}")) for kind in kinds]
    rows = [
        el("li", link(f"{CARDS}/{name}", text(f"{title} (PDF)"))) for name, title in found if name in cards
    ]
    if not rows:
        return NOTHING
    return el("details", el("summary", text(word("head.print"))), el("ul", *rows), cls="cards")
