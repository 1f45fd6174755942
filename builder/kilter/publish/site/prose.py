"""Plain Markdown pages: the library's front page, the guide, the rule pages. Raw HTML stays words."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Sequence
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererProtocol
from markdown_it.token import Token

from kilter.model.base import slugify
from kilter.publish.site.markup import NOTHING, Html, el, text

log = logging.getLogger("mkdocs.plugins.kilter")

Resolve = Callable[[str], str | None]
"""The address of a link's target, None where it leads nowhere."""


def prose(markdown: str, resolve: Resolve, where: str) -> Html:
    """HTML of a page with ids on its headings. A dead link becomes plain words and is reported."""
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = parser.parse(markdown)
    seen: dict[str, int] = {}
    for n, token in enumerate(tokens):
        if token.type == "heading_open":
            token.attrSet("id", _unique(slugify(_words(tokens[n + 1])), seen))
        elif token.type == "inline":
            token.children = _linked(token.children or [], resolve, where)
    parser.add_render_rule("fence", _fence)
    html = parser.renderer.render(tokens, parser.options, {})
    return Html(
        re.sub(
            r"(<table[^>]*>.*?</table>)", r'<div class="wide" tabindex="0">\1</div>', html, flags=re.DOTALL
        )
    )


EXAMPLES = {"fails": "This is found", "passes": "This passes"}
"""Second word after a fence of the rule pages, and what stands above it."""


def _fence(renderer: RendererProtocol, tokens: Sequence[Token], n: int, options: Any, env: Any) -> str:
    """Letter for letter; an example of a rule page says whether it passes."""
    words = tokens[n].info.split()
    kind = next((w for w in words if w in EXAMPLES), "")
    label = el("p", text(EXAMPLES[kind]), cls=f"example {kind}") if kind else NOTHING
    return label + el("pre", el("code", text(tokens[n].content), tabindex="0")) + "\n"


def title_of(markdown: str, otherwise: str) -> str:
    """The first heading of level 1."""
    found = re.search(r"^# +(.+?)\s*#*$", markdown, flags=re.MULTILINE)
    return found[1] if found else otherwise


def _words(inline: Token) -> str:
    return "".join(t.content for t in inline.children or [] if t.type in ("text", "code_inline"))


def _unique(slug: str, seen: dict[str, int]) -> str:
    seen[slug] = seen.get(slug, 0) + 1
    return slug if seen[slug] == 1 else f"{slug}-{seen[slug]}"


def _linked(children: list[Token], resolve: Resolve, where: str) -> list[Token]:
    """Links with their addresses; pictures as their words, for only checked documents show pictures."""
    kept: list[Token] = []
    dead = 0
    for token in children:
        if token.type == "image":
            log.warning("%s: a picture on a plain page is not shown: %s", where, token.attrGet("src"))
            kept.append(Token("text", "", 0, content=token.content))
            continue
        if token.type == "link_open":
            target = str(token.attrGet("href") or "")
            href = resolve(target)
            if href is None:
                log.warning("%s: link leads nowhere: %s", where, target)
                dead += 1
                continue
            token.attrSet("href", href)
        elif token.type == "link_close" and dead:
            dead -= 1
            continue
        kept.append(token)
    return kept
