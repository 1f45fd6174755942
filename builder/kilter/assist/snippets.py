"""Whole blocks to begin with; what is missing in them is a marked blank, refused until it is filled."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.assist.calculations import headers
from kilter.assist.known import Entry, Known
from kilter.model.text import SIGNAL_WORDS

_PANEL = """:::{{{word}}} {source}
**[fill in: the hazard].** [fill in: what happens, and to whom]. [fill in: how to avoid it].
:::"""
_PLAIN_PANEL = _PANEL.replace(" {source}", "")
_FIGURE = """:::{figure} [fill in: picture.png]
:id: fig-[fill in: short name]
:alt: [fill in: what the picture shows, in words]
:1: [fill in: x,y in pixels, and a name]
[fill in: caption]
:::"""
_PROOF = """### Prove zero
:origin: [fill in: where the limit comes from]

Test the {{tool}}`[fill in: meter]` on a known source. [fill in: where to measure]: {{proves}}`{sources}`. Test the meter again.

- [fill in: what is seen when all is at zero]: [Carry on](#{next})
- Anything else: [Stop and tag](#{stop}) {{not-zero}}"""
_STEP = """### [fill in: what is done]

[fill in: one instruction]"""
_STAGE = """## [fill in: what this part is about]

### [fill in: what is done]

[fill in: one instruction]"""
_EXIT = """### Stop and tag
:exit: left locked out, tagged

[fill in: what stays locked, and where the tag hangs]."""
_SHARED = """## [fill in: what is done wherever it is asked for] {shared}

### [fill in: what is done]

[fill in: one instruction]"""
ABOUT_PANELS = {
    "danger": "kills or maims if it is not avoided",
    "warning": "could kill or maim",
    "caution": "could hurt slightly",
    "notice": "damage only",
}


def directives(known: Known) -> Iterator[Entry]:
    """Behind `:::`: the header alone, then the block with its blanks."""
    for word in SIGNAL_WORDS:
        yield Entry(f":::{{{word}}}", "directive", ABOUT_PANELS[word], insert=f":::{{{word}}} ")
    yield Entry(":::{figure}", "directive", "a picture with numbered items", insert=":::{figure} ")
    yield from headers()
    yield from _panels(known)
    yield Entry("figure with items", "block", "picture, words for it, items", insert=_FIGURE)


def blocks(known: Known, row: int) -> Iterator[Entry]:
    """In an empty row of the text: what can stand there."""
    head = known.drawn.heading_above(row)
    if head is not None and head.level == 3:
        yield Entry("figure with items", "block", "picture, words for it, items", insert=_FIGURE)
    if head is not None:
        yield from _panels(known)
    if head is not None and head.level >= 2:
        yield Entry("step", "block", "a heading and an instruction", insert=_STEP)
        yield Entry("proof with both answers", "block", "zero, and anything else", insert=_proof(known, row))
        yield Entry("stop and tag", "block", "the way out when something is wrong", insert=_EXIT)
    if head is not None:
        yield Entry("stage", "block", "a heading and its first step", insert=_STAGE)
        yield Entry("shared stage", "block", "done where a step asks for it", insert=_SHARED)


def _panels(known: Known) -> Iterator[Entry]:
    """A panel for each source of the machine, with the profile's word, then one without a source."""
    for name, source in known.machine.sources.items() if known.machine is not None else ():
        insert = _PANEL.format(word=source.word, source=name)
        yield Entry(f"{source.word} panel, {name}", "block", source.kind, insert=insert)
    insert = _PLAIN_PANEL.format(word="caution")
    yield Entry("caution panel without a source", "block", "a sharp edge, a hot surface", insert=insert)


def _proof(known: Known, row: int) -> str:
    sources = ", ".join(known.machine.sources) if known.machine is not None else "[fill in: sources]"
    within = next((h for h in reversed(known.drawn.headings) if h.level == 2 and h.row < row), None)
    after = next((h for h in known.drawn.headings if h.row > row), None)
    shared = within is not None and within.shared
    going = after.slug if after is not None and after.level == 3 else "[fill in: the next step]"
    stop = next(
        (h.slug for h in known.drawn.steps if h.slug.startswith(("stop", "leave-it-locked"))), "stop-and-tag"
    )
    return _PROOF.format(sources=sources, next="back" if shared else going, stop=stop)
