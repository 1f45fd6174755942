"""Running text as data for the templates: words and what they are, never markup."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import NotRequired, TypedDict

from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.text import Break, Code, Link, Role, Run, Styled, Text
from kilter.publish.values import other_words, parts_of
from kilter.publish.view import EFFECT_WORDS, DocumentView

_LONG_WORD = 20
_JOINT = "\u200b"
"""A place where a word that is wider than its column may break; it prints as nothing."""


class Inline(TypedDict):
    """One run. `t` is its kind: text, strong, emphasis, code, break, wait, value, item, name, effect or link."""

    t: str
    s: NotRequired[str]
    r: NotRequired[list[Inline]]
    label: NotRequired[str]
    """What a value is of."""
    other: NotRequired[str]
    """The value in the other system, in parentheses; empty where both systems share it."""
    to: NotRequired[str]
    """Label of the place in the card that a link leads to."""


@dataclass(frozen=True)
class Scope:
    """Where running text stands: needed to find steps and figures by the names used there."""

    view: DocumentView
    owner: Document
    live: bool = True
    """False where links are words only: in panels, which are printed again on other pages."""

    def quiet(self) -> Scope:
        return Scope(self.view, self.owner, live=False)


def printable(text: str) -> str:
    """NFC on one line, with joints in words that no column could hold."""
    text = re.sub(r"[ \t\r\n]+", " ", unicodedata.normalize("NFC", text))
    return re.sub(rf"\S{{{_LONG_WORD + 1},}}", lambda m: _jointed(m.group()), text)


def _jointed(word: str) -> str:
    return _JOINT.join(word[i : i + 8] for i in range(0, len(word), 8))


def inlines(runs: tuple[Run, ...], scope: Scope) -> list[Inline]:
    """Runs of a paragraph as data."""
    return [inline for run in runs for inline in _inline(run, scope)]


def _inline(run: Run, scope: Scope) -> list[Inline]:
    if isinstance(run, Text):
        return [{"t": "text", "s": printable(run.text)}]
    if isinstance(run, Code):
        return [{"t": "code", "s": printable(run.text)}]
    if isinstance(run, Break):
        return [{"t": "break"}]
    if isinstance(run, Styled):
        return [{"t": run.kind, "r": inlines(run.runs, scope)}]
    if isinstance(run, Link):
        return _link(run, scope)
    return [_role(run, scope)]


def _role(role: Role, scope: Scope) -> Inline:
    text = printable(role.text)
    if role.name in EFFECT_WORDS:
        return {"t": "effect", "s": f"{EFFECT_WORDS[role.name]} {text}"}
    if role.name == "wait":
        return {"t": "wait", "s": text}
    if role.name in ("torque", "set", "read"):
        label, colon, limit = text.rpartition(":")
        return {
            "t": "value",
            "s": limit.strip(),
            "label": f"{label}: " if colon else "",
            "other": in_brackets(role),
        }
    if role.name == "item":
        return {"t": "item", "s": item_words(role, scope)}
    return {"t": "name", "s": text}


def in_brackets(role: Role) -> str:
    """A value in the other system, as it stands behind the author's own."""
    other = other_words(*reversed(parts_of(role)))
    return f"({printable(other)})" if other else ""


def item_words(role: Role, scope: Scope) -> str:
    """`Fig. 2, items 3, 4` for `fig-boom 3, 4`."""
    figure, _, first = role.text.strip().partition(" ")
    number = scope.view.figure_numbers.get(f"{scope.owner.path}#{figure}")
    word = "items" if "," in first or "–" in first else "item"
    return printable(f"Fig. {number}, {word} {first}" if number else f"{figure}, {word} {first}")


def _link(link: Link, scope: Scope) -> list[Inline]:
    words = inlines(link.runs, scope)
    if not link.target.startswith("#"):
        shown = " ".join(r.get("s", "") for r in words)
        note = "" if link.target in shown else f" ({printable(link.target)})"
        return [*words, {"t": "text", "s": note}]
    number, anchor = place_of(scope, link.target.removeprefix("#"))
    if not number:
        return words
    inner: list[Inline] = [*words, {"t": "text", "s": f" ({number})"}]
    return [{"t": "link", "r": inner, "to": anchor}] if scope.live else inner


def place_of(scope: Scope, slug: str) -> tuple[str, str]:
    """`step 4.2` or `stage A` and its label; empty where the card has no such place."""
    for stage in scope.view.stages:
        if stage.owner is not scope.owner:
            continue
        for step in stage.steps:
            if fold(step.step.slug) == fold(slug):
                return f"step {step.number}", step.anchor
        if fold(stage.stage.slug) == fold(slug):
            return f"stage {stage.number}", stage.anchor
    return "", ""
