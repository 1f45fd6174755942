"""The guide that comes with Kilter: every file below `pages/` is a page of it, found by looking.

A file may open, between two lines `---`, with `order:` (a number, pages stand in that order), `short:` (its name in
the list of pages, else its title) and `about:` (one line, for search engines). `guide.md` is the first page; `NAME.md` has the address `guide-NAME.html`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from kilter.model.base import fold, slugify
from kilter.publish.site.markup import NOTHING, Html, el, join, link, some, text
from kilter.publish.site.prose import Terms, entry_key, entry_of, title_of

FIRST, WORDS = "guide.html", "guide-words.html"
LAST = 999
"""Place of a page that names no order."""

_FRONT = re.compile(r"\A---\n(.*?)^---\n", re.S | re.M)
_STAGE = re.compile(r"^## +(.+?)\s*#*$", re.M)
_FENCE = re.compile(r"^(`{3,}).*?^\1[ ]*$", re.S | re.M)
LONG = 5
"""From so many parts on a page begins with a list of them."""


@dataclass(frozen=True)
class GuidePage:
    """One page of the guide before it is rendered."""

    name: str
    """The file's name without `.md`."""
    markdown: str
    order: int
    about: str
    short: str

    @property
    def address(self) -> str:
        return FIRST if self.name == "guide" else f"guide-{self.name}.html"

    @property
    def title(self) -> str:
        return title_of(self.markdown, self.name.capitalize())


@cache
def guide_files() -> tuple[GuidePage, ...]:
    """All pages in their order; those that name none stand last, by name."""
    folder = files("kilter.publish.site").joinpath("pages")
    found = [(f.name, f.read_text(encoding="utf-8")) for f in folder.iterdir() if f.name.endswith(".md")]
    pages = [_page(name.removesuffix(".md"), markdown) for name, markdown in found]
    return tuple(sorted(pages, key=lambda p: (p.name != "guide", p.order, p.name)))


def _page(name: str, markdown: str) -> GuidePage:
    opened = _FRONT.match(markdown)
    keys = dict(re.findall(r"^(\w+): *(.*)$", opened[1], re.M)) if opened else {}
    order = keys.get("order", "")
    body = markdown[opened.end() :] if opened else markdown
    return GuidePage(
        name, body, int(order) if order.isdigit() else LAST, keys.get("about", ""), keys.get("short", "")
    )


@cache
def terms() -> Mapping[str, str]:
    """Address of each word's entry in the glossary, by the folded word."""
    page = next((p for p in guide_files() if p.address == WORDS), None)
    rows = page.markdown.splitlines() if page else []
    words = [word for row in rows if (word := entry_of(row))]
    return MappingProxyType({entry_key(w): f"{WORDS}#{slugify(entry_key(w))}" for w in words})


def guide_resolver() -> dict[str, str]:
    """The names under which one page of the guide links to another."""
    return {fold(name): p.address for p in guide_files() for name in (f"{p.name}.md", p.address)}


def words_for(page: GuidePage) -> Terms:
    """What the glossary does on this page: its entries get ids there, first uses lead to them elsewhere."""
    return Terms({}, True) if page.address == WORDS else Terms(terms(), False)


def around(page: GuidePage, body: Html) -> Html:
    """The page between the list of all pages and the way to the next one."""
    pages = guide_files()
    here = next(n for n, p in enumerate(pages) if p.address == page.address)
    following = pages[here + 1] if here + 1 < len(pages) else None
    heading, rest = _after_title(body)
    on = (
        el("p", text("Next: "), link(following.address, text(following.title)), cls="next")
        if following
        else None
    )
    return join([_list(page), heading, _parts(page), rest, some(on)])


def _list(page: GuidePage) -> Html:
    rows = (
        el("li", el("b", text(p.short or p.title), aria_current="page"))
        if p.name == page.name
        else el("li", link(p.address, text(p.short or p.title)))
        for p in guide_files()
    )
    return el("nav", el("ul", *rows), cls="pages", aria_label="Pages of the guide")


def _parts(page: GuidePage) -> Html:
    """Links to the parts of a long page."""
    titles = _STAGE.findall(_FENCE.sub("", page.markdown))
    if len(titles) < LONG:
        return NOTHING
    rows = (el("li", link(f"#{slugify(t.replace('`', ''))}", text(t.replace("`", "")))) for t in titles)
    return el("nav", el("ul", *rows), cls="pages parts", aria_label="On this page")


def _after_title(body: Html) -> tuple[Html, Html]:
    at = body.find("</h1>") + len("</h1>")
    return Html(body[:at]), Html(body[at:])
