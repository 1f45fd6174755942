"""HTML as a type of its own, so that the type checker sees where an author's words were not escaped."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from typing import NewType

Html = NewType("Html", str)
"""Finished markup. Only `text` and the functions below make it from words."""

_VOID = frozenset({"br", "hr", "img", "input", "meta", "link", "source"})


def text(words: str) -> Html:
    """Words of anybody, safe as content."""
    return Html(escape(words, quote=False))


def join(parts: Iterable[Html], between: Html = Html("")) -> Html:
    return Html(between.join(parts))


def el(name: str, *body: Html, cls: str = "", **attributes: str | int | None) -> Html:
    """One element. Attributes are escaped; `None` leaves one out; `aria_label` is written `aria-label`."""
    given = {"class": cls or None, **attributes}
    written = "".join(
        f' {key.rstrip("_").replace("_", "-")}="{escape(str(value))}"'
        for key, value in given.items()
        if value is not None
    )
    if name in _VOID:
        return Html(f"<{name}{written}>")
    return Html(f"<{name}{written}>{''.join(body)}</{name}>")


def link(href: str, *body: Html, cls: str = "") -> Html:
    return el("a", *body, cls=cls, href=href)


def some(*parts: Html | None) -> Html:
    """Those that are there, one after the other."""
    return Html("".join(p for p in parts if p))


NOTHING = Html("")
SPACE = Html(" ")
