"""Values on the page of a machine: its switches with their windows, and what its energies' figures come to."""

from __future__ import annotations

from kilter.model.front import ProfileFront
from kilter.publish.site import head
from kilter.publish.site.calculations import english, windows_html, worked_parts
from kilter.publish.site.markup import NOTHING, Html, el, join, some, text
from kilter.publish.site.terms import author
from kilter.publish.site.words import theirs, word
from kilter.publish.sources import source_answer
from kilter.publish.values import other_words
from kilter.publish.window import own_window

SWITCH = ("fp", "op", "ttp", "rp", "pt", "ot", "md", "window", "use", "origin")


def switches_html(front: ProfileFront) -> Html:
    if not front.switches:
        return NOTHING
    used = [k for k in SWITCH if any(getattr(s, k) for s in front.switches.values())]
    rows = (
        [el("b", text(name), lang=theirs()), *(_figure(getattr(switch, k) or "") for k in used)]
        for name, switch in front.switches.items()
    )
    names = [word("machine.switch"), *(word(f"switch.{key}") for key in used)]
    windows = (own_window(name, switch) for name, switch in front.switches.items())
    return join(
        [
            el("h2", text(word("machine.switches")), id="switches."),
            head.table(names, rows, "stack"),
            windows_html(each for each in windows if each),
        ]
    )


def _figure(written: str) -> Html:
    """A catalogue figure; the other system's value behind it."""
    other = other_words(written) if written else ""
    beside = el("span", text(f" ({other})"), cls="other") if other else None
    return el("span", some(author(text(written)), beside)) if written else NOTHING


def sources_html(front: ProfileFront) -> Html:
    """What the energies' figures come to: days until a battery is flat, the time a capacitor takes to drain."""
    shown = [(name, found) for name, source in front.sources.items() if (found := source_answer(source))]
    if not shown:
        return NOTHING
    parts = [
        el(
            "div",
            el("p", el("b", text(found.title)), text(f": {name}")),
            *worked_parts(found)[1:],
            cls="calc",
            lang=english(),
        )
        for name, found in shown
    ]
    return join([el("h2", text(word("machine.worked")), id="worked."), *parts])
