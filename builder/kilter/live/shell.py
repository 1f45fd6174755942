"""The bar on top of every live page, and the frame of those that are no pages of the site."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Sequence
from html import escape
from typing import TYPE_CHECKING
from urllib.parse import quote

from kilter.diagnostic import Diagnostic
from kilter.live.listing import count_words
from kilter.live.web import Response
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, text
from kilter.publish.site.page import POLICY

if TYPE_CHECKING:
    from kilter.live.bench import Bench

TABS = ("Page", "Card", "Findings", "Write", "Pictures", "New")
STYLES = ("/assets/kilter.css", "/assets/document.css", "/live/live.css")
TOKEN, VERSION = "@@kilter-token@@", "@@kilter-version@@"
"""Stand in a page until it is sent, so that what is kept and compared does not hold them."""
HEAD = (
    f'<meta name="kilter-token" content="{TOKEN}">\n<meta name="kilter-version" content="{VERSION}">\n'
    '<script src="/live/live.js" defer></script>\n'
)


def shell(
    bench: Bench,
    title: str,
    body: Html,
    active_tab: str,
    path: str = "",
    styles: Sequence[str] = (),
    scripts: Sequence[str] = (),
    status: int = 200,
    swap: bool = True,
) -> Response:
    """A live page. `path` is the document (as shown in findings) that the tabs lead to; `body` is finished HTML.

    Styles and scripts are addresses from the root; the policy allows no inline ones. With `swap` the page is
    fetched again and put in place after each change that it shows; without, the script event `kilter:changed`
    on `document` says in `detail.names` which files of the library changed.
    """
    lines = [
        f'<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">',
        '<meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">',
        '<meta name="color-scheme" content="light dark">',
        f"<title>{escape(title)}</title>",
        '<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">',
        *(f'<link rel="stylesheet" href="{escape(s)}">' for s in (*STYLES, *styles)),
        *(f'<script src="{escape(s)}" defer></script>' for s in scripts),
    ]
    own = "" if swap else ' data-own="yes"'
    main = f'<main id="content" class="live-page" tabindex="-1"{own}>\n{body}\n</main>'
    head = "\n".join(lines)
    page = f'<!doctype html>\n<html lang="en">\n<head>\n{head}\n</head>\n<body>\n{main}\n</body>\n</html>\n'
    with bench.lock:
        return finished(bench, page, active_tab, path, status)


def finished(bench: Bench, page: str, active_tab: str, path: str, status: int = 200) -> Response:
    """A whole page with bar and script put in."""
    html = page.replace("</head>", f"{HEAD}</head>", 1)
    html = re.sub(r"(<body[^>]*>)", lambda m: f"{m[1]}\n{bar(bench, active_tab, path)}", html, count=1)
    data = html.encode("utf-8", "xmlcharrefreplace")
    version = hashlib.sha256(data).hexdigest()[:16]
    return Response(
        data.replace(VERSION.encode(), version.encode(), 1),
        status=status,
        headers={"x-kilter-version": version},
    )


def bar(bench: Bench, active_tab: str, path: str) -> Html:
    """The tabs, what is wrong with the library's settings, and whether the page is connected."""
    ask = bench.site.shelf.facts.ask
    name = bench.name_of(path) if path else ""
    page = ask("page of", path) if path else ""
    found = ask("said", path) if path else ()
    tabs = [_tab(tab, active_tab, _address(tab, name, page, bench, path), found) for tab in TABS]
    trouble = ask("trouble")
    state = el("p", text(""), id="live-state", role="status")
    wrong = NOTHING
    if trouble:
        words = f"{trouble}. The pages stand on its last good state; they follow once it is mended."
        wrong = el("p", text(words), id="live-trouble", role="status")
    return el("div", el("nav", join(tabs), aria_label="Live"), state, wrong, id="live-bar")


def _address(tab: str, name: str, page: str, bench: Bench, path: str) -> str:
    if tab == "Page":
        return f"/{quote(page)}" if page else ("/" if not path else f"/findings/{quote(name)}")
    if tab == "New":
        return "/new"
    tab = "place" if tab == "Pictures" else tab
    return f"/{tab.lower()}/{quote(name)}" if name else f"/{tab.lower()}"


def _tab(name: str, active: str, address: str, found: Sequence[Diagnostic]) -> Html:
    current, words, told = "page" if name == active else None, text(name), None
    if name == "Findings" and found:
        words, told = join([words, SPACE, el("b", text(str(len(found))))]), f"Findings: {count_words(found)}"
    return el("a", words, href=address, aria_current=current, title=told)
