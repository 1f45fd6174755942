"""Running text as HTML."""

from __future__ import annotations

from kilter.model.document import EFFECTS, VALUES
from kilter.model.text import Break, Code, Link, Role, Run, Styled, Text
from kilter.publish.site.markup import NOTHING, SPACE, Html, el, join, link, text
from kilter.publish.site.scope import WITHHELD, Scope, item_references
from kilter.publish.site.terms import own
from kilter.publish.site.words import count, word
from kilter.publish.values import other_words, parts_of
from kilter.publish.view import EFFECT_WORDS

SAID = (
    "isolates", "releases", "proves", "restores", "runs-on", "loads", "removes", "refits", "all-clear", "tests",
)  # fmt: skip
"""Marks with a meaning that the reader sees who points at them."""


def runs_html(runs: tuple[Run, ...], scope: Scope) -> Html:
    return join(_run(run, scope) for run in runs)


def _run(run: Run, scope: Scope) -> Html:
    if isinstance(run, Text):
        return text(run.text)
    if isinstance(run, Code):
        return el("code", text(run.text))
    if isinstance(run, Break):
        return el("br")
    if isinstance(run, Styled):
        return el("strong" if run.kind == "strong" else "em", runs_html(run.runs, scope))
    if isinstance(run, Link):
        return _link(run, scope)
    return _role(run, scope)


def _link(run: Link, scope: Scope) -> Html:
    body = runs_html(run.runs, scope)
    href = scope.href(run.target)
    if href is None:
        return body
    if href == WITHHELD:
        return join([link(href, body), own(text(word("link.withheld", number=run.target)))])
    if href.startswith("http"):
        return el("a", body, href=href, rel="noopener noreferrer")
    if href.startswith("#"):
        anchor, number = scope.steps[(scope.owner.path, run.target[1:])]
        return join([link(f"#{anchor}", body), text(f" ({number})")])
    return join([link(href, body), text(" "), el("span", text(f"({run.target.upper()})"), cls="number")])


def _role(role: Role, scope: Scope) -> Html:
    if role.name in VALUES:
        return _value(role)
    if role.name == "item":
        return _items(role, scope)
    if role.name in EFFECTS or role.name in SAID:
        shown = role.name in EFFECT_WORDS
        verb = el("small", own(text(f"{word(f'effect.{role.name}')} "))) if shown else NOTHING
        return el(
            "span", verb, text(role.text), cls="effect", title=f"{word(f'said.{role.name}')}: {role.text}"
        )
    return el("span", text(role.text), cls=role.name)


def _value(role: Role) -> Html:
    """Neither the value nor the other system's breaks over a line; between them, and after a name, may be a break."""
    name, value = parts_of(role)
    other = other_words(value, name)
    shown = el("span", text(value), cls=f"value {role.name}", title=word(f"value.{role.name}"))
    beside = [SPACE, el("span", text(f"({other})"), cls="other")] if other else []
    return join([text(name), shown, *beside])


def _items(role: Role, scope: Scope) -> Html:
    shown = []
    for id, items in item_references(role):
        number = scope.figure(id)
        words = count("figure.items", len(items), numbers=", ".join(items))
        if number is None:
            shown.append(own(text(words)))
        else:
            shown.append(
                link(f"#fig.{number}", own(text(word("figure.ref", n=number, items=words))), cls="item")
            )
    return join(shown, text("; "))
