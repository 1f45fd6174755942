"""The frame of the live pages that are no pages of the site: bar on top, then whatever the page holds."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from urllib.parse import quote

from kilter.live.bench import Bench
from kilter.live.web import Response
from kilter.publish.site.markup import Html, el, join, text
from kilter.publish.site.page import POLICY

TABS = ("Page", "Card", "Findings", "Write", "New")
STYLES = ("/assets/kilter.css", "/assets/document.css", "/live/live.css")


def shell(
    bench: Bench,
    title: str,
    body: Html,
    active_tab: str,
    path: str = "",
    styles: Sequence[str] = (),
    scripts: Sequence[str] = (),
    status: int = 200,
) -> Response:
    """A live page. `path` is the document (as shown in findings) that the tabs lead to; `body` is finished HTML.

    Styles and scripts are addresses from the root; the policy allows no inline ones.
    """
    head = [
        f'<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">',
        '<meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">',
        '<meta name="color-scheme" content="light dark">',
        f"<title>{escape(title)}</title>",
        '<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">',
        *(f'<link rel="stylesheet" href="{escape(s)}">' for s in (*STYLES, *styles)),
        head_lines(bench),
        *(f'<script src="{escape(s)}" defer></script>' for s in scripts),
    ]
    page = "\n".join(
        [
            '<!doctype html>\n<html lang="en">\n<head>',
            *head,
            "</head>\n<body>",
            bar(bench, active_tab, path),
            f'<main id="content" class="live-page" tabindex="-1">\n{body}\n</main>',
            "</body>\n</html>\n",
        ]
    )
    return Response(page.encode("utf-8", "xmlcharrefreplace"), status=status)


def head_lines(bench: Bench) -> Html:
    """What every live page carries in its head."""
    return Html(
        f'<meta name="kilter-token" content="{escape(bench.token)}">\n'
        '<script src="/live/live.js" defer></script>'
    )


def bar(bench: Bench, active_tab: str, path: str) -> Html:
    """The tabs, and a place for what the page has to tell about itself."""
    tabs = (_tab(name, active_tab, bench.name_of(path) if path else "") for name in TABS)
    nav = el("nav", join(tabs), aria_label="Live")
    state = el("p", text("connecting"), id="live-state", role="status")
    return el("div", nav, state, id="live-bar")


def _tab(name: str, active: str, document: str) -> Html:
    below = f"/{quote(document)}" if document else ""
    address = {"Page": "/", "New": "/new"}.get(name, f"/{name.lower()}{below}")
    current = {"aria_current": "page"} if name == active else {}
    return el("a", text(name), href=address, **current)
