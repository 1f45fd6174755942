"""The Markdown parser as Kilter uses it: CommonMark, tables, roles, colon directives, field lists.

HTML tokens are switched on only so that they can be found and refused; link checking is switched off
because the library turns what it dislikes into plain text without a word.
"""

from __future__ import annotations

import re
from functools import lru_cache

from markdown_it import MarkdownIt
from markdown_it.rules_block import StateBlock
from markdown_it.token import Token
from mdit_py_plugins.colon_fence import colon_fence_plugin
from mdit_py_plugins.myst_role import myst_role_plugin

DEEPEST = 16
"""Deepest nesting that is read; the library itself drops what is deeper than its limit, in silence."""

_LIBRARY_LIMIT = 60
_FIELD = re.compile(r":[^:\s][^:\n]*:(?=[ \t]|$)")


@lru_cache(maxsize=1)
def parser() -> MarkdownIt:
    """The one configured parser; it keeps no state between calls."""
    md = MarkdownIt("commonmark", {"html": True, "maxNesting": _LIBRARY_LIMIT})
    md.enable("table")
    # joined text would hide which braces and brackets were escaped
    # a line such as `[A]: 5 V` would be taken for a link definition, and vanish
    md.disable(["text_join", "reference"])
    md.use(colon_fence_plugin).use(myst_role_plugin)
    md.block.ruler.before(
        "paragraph", "fields", _fields, {"alt": ["paragraph", "reference", "blockquote", "list"]}
    )
    md.validateLink = lambda url: True  # type: ignore[method-assign]
    return md


def tokens_of(text: str) -> list[Token]:
    """Block tokens with their inline children; rows count from 0 in `text`."""
    # the plugin for `:::` looks one sign past the end of a text that ends inside a quote
    return parser().parse(text + "\n")


def too_deep(tokens: list[Token]) -> int | None:
    """The row of the first block that is nested deeper than is read."""
    return next(((t.map or [0])[0] for t in tokens if t.level >= DEEPEST), None)


def _fields(state: StateBlock, start: int, end: int, silent: bool) -> bool:
    """A run of `:name: value` rows, each carried on by indented rows, as one token `fields`.

    The plugin for field lists is not used: it draws the sentence below a field into the field.
    """
    if state.is_code_block(start) or not _is_field(state, start):
        return False
    if silent:
        return True
    row = start + 1
    while row < end and not state.isEmpty(row) and (state.sCount[row] >= 2 or _is_field(state, row)):
        row += 1
    token = state.push("fields", "", 0)
    token.map = [start, row]
    state.line = row
    return True


def _is_field(state: StateBlock, row: int) -> bool:
    begin = state.bMarks[row] + state.tShift[row]
    return _FIELD.match(state.src[begin : state.eMarks[row]]) is not None
