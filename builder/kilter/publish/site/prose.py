"""Plain Markdown pages: the library's front page, the guide, the rule pages. Raw HTML stays words."""

from __future__ import annotations

import logging
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from markdown_it import MarkdownIt
from markdown_it.renderer import RendererProtocol
from markdown_it.token import Token

from kilter.check.rule import rule_named
from kilter.model.base import fold, slugify
from kilter.publish.site.markup import NOTHING, Html, el, link, text

log = logging.getLogger("mkdocs.plugins.kilter")

Resolve = Callable[[str], str | None]
"""The address of a link's target, None where it leads nowhere."""


@dataclass(frozen=True)
class Terms:
    """A glossary: where each folded word is explained, and whether this page is the one that explains them."""

    addresses: Mapping[str, str]
    entries: bool = False


NO_TERMS = Terms({})
_ENTRY = re.compile(r"^- \*\*`?([^*`]+)`?\*\*")


def entry_of(row: str) -> str | None:
    """The word that a row of a glossary explains: `- **word** ...`."""
    match = _ENTRY.match(row)
    return match[1] if match else None


def entry_key(word: str) -> str:
    """A word as it is looked up: `:exit:`, `{exit}` and `exit` are one."""
    return fold(word.strip(":{} "))


def prose(markdown: str, resolve: Resolve, where: str, terms: Terms = NO_TERMS) -> Html:
    """HTML of a page with ids on its headings. A dead link becomes plain words and is reported."""
    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = parser.parse(markdown)
    seen: dict[str, int] = {}
    told: set[str] = set()
    for n, token in enumerate(tokens):
        if token.type == "heading_open":
            token.attrSet("id", _unique(slugify(_words(tokens[n + 1])), seen))
        elif token.type == "inline":
            token.children = _explained(_linked(token.children or [], resolve, where), terms, told)
        elif token.type == "list_item_open" and terms.entries:
            word = next((t.content for t in tokens[n + 2].children or [] if t.content.strip()), "")
            token.attrSet("id", slugify(entry_key(word)))
    parser.add_render_rule("fence", _fence)
    html = parser.renderer.render(tokens, parser.options, {})
    return Html(
        re.sub(
            r"(<table[^>]*>.*?</table>)", r'<div class="wide" tabindex="0">\1</div>', html, flags=re.DOTALL
        )
    )


EXAMPLES = {
    "fails": "This is found", "passes": "This passes", "console": "In the terminal",
    "file": "The file {0}", "above": "Set into {0}, above the last line shown here",
    "profile": "A whole profile", "procedure": "A whole procedure",
}  # fmt: skip
"""A word after a fence, and what stands above it. A rule may follow `fails`, a path `file` and `above`."""


def _fence(renderer: RendererProtocol, tokens: Sequence[Token], n: int, options: Any, env: Any) -> str:
    """Letter for letter; an example says whether it passes, a file which one it is."""
    words = tokens[n].info.split()
    kind = next((w for w in words if w in EXAMPLES), "")
    third = words[2] if len(words) > 2 else ""
    said = EXAMPLES.get(kind, "").format(third)
    known = kind == "fails" and rule_named(third) is not None
    by = (text(": "), link(f"rule-{third}.html", text(third))) if known else ()
    label = el("p", text(said), *by, cls=f"example {kind}") if kind else NOTHING
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


def _explained(children: list[Token], terms: Terms, told: set[str]) -> list[Token]:
    """The first use on the page of each word that stands as code or leaning leads to its entry."""
    kept: list[Token] = []
    inside = 0
    for n, token in enumerate(children):
        inside += {"link_open": 1, "link_close": -1}.get(token.type, 0)
        leaning = token.type == "text" and n > 0 and children[n - 1].type == "em_open"
        key = entry_key(token.content) if token.type == "code_inline" or leaning else ""
        if leaning and key not in terms.addresses:
            key = key.removesuffix("s")  # a word of ours, used for several
        if inside or key not in terms.addresses or key in told:
            kept.append(token)
            continue
        told.add(key)
        opened = Token("link_open", "a", 1, attrs={"href": terms.addresses[key], "class": "term"})
        kept += [opened, token, Token("link_close", "a", -1)]
    return kept
