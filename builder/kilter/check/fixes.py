"""Fixes of the rules: where a line goes under a heading, a panel to fill in, a value put right.

A fix for a rule about energy leaves one marked blank, so that a person has to say what is true here. Only the
right spelling of a name that the profile or the document knows leaves none: it says nothing new.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from kilter.compute.quantity import QuantityError
from kilter.diagnostic import Edit, Fix
from kilter.model.document import Document, Stage, Step
from kilter.model.library import Library
from kilter.model.text import Block, Panel, Paragraph, Styled, all_runs
from kilter.read.blanks import BLANK_MARK
from kilter.read.cures import end_of, inserted, line_start, put, replaced, spelt
from kilter.source import Source, Span

PANEL_ASKS = "the hazard in bold, what can happen, how to avoid it"


def name_spelt(library: Library, span: Span, word: str, known: Iterable[str]) -> tuple[Fix, ...]:
    """A name put right that the proof leans on: for an editor only."""
    found = spelt(library.sources.get(span.path), span, word, known)
    return tuple(replace(fix, alone=False) for fix in found)


def name_put(library: Library, span: Span, word: str, right: str) -> tuple[Fix, ...]:
    """A certain name in the place of another, for an editor only."""
    return put(library.sources.get(span.path), span, word, right)


def source_of(library: Library, span: Span) -> Source | None:
    return library.sources.get(span.path)


def under_heading(entry: Step | Stage, line: str) -> Edit:
    """A field as the last one under a heading."""
    first = _first_text(entry)
    head = [f.span for f in entry.fields if first is None or f.span.line < first.line]
    return Edit(end_of(max([entry.heading_span, *head])), "\n" + line)


def field_under(entry: Step | Stage, title: str, line: str) -> tuple[Fix, ...]:
    """A fix that writes one field."""
    return (Fix(title, (under_heading(entry, line),), leaves_blank=BLANK_MARK in line),)


def above_text(entry: Step | Stage, text: str) -> Edit:
    """Rows above everything that a step or stage says, below its fields."""
    first = _first_text(entry)
    if first is None:
        return under_heading(entry, "\n" + text)
    return Edit(line_start(first), text + "\n\n")


def _first_text(entry: Step | Stage) -> Span | None:
    if isinstance(entry, Step):
        spans = [b.span for b in entry.blocks] + [a.span for a in entry.answers]
    else:
        spans = [b.span for b in entry.blocks] + [s.heading_span for s in entry.steps[:1]]
    return min(spans, default=None)


def panel_to_fill(entry: Step | Stage, word: str, sources: Iterable[str]) -> tuple[Fix, ...]:
    """A panel that guards, with one blank for its words."""
    names = ", ".join(sources)
    text = f":::{{{word}}} {names}\n{BLANK_MARK}: {PANEL_ASKS}]\n:::"
    title = f"write a {word} panel about `{names}` above `{entry.title}`"
    return (Fix(title, (above_text(entry, text),), leaves_blank=True),)


def has_blank(panel: Panel) -> bool:
    """Whether its words are still missing, so that nothing can be said of them."""
    return any(BLANK_MARK in getattr(run, "text", "") for run in all_runs(panel.blocks))


def hazard_blank(panel: Panel) -> tuple[Fix, ...]:
    """A blank for the hazard in front of a panel's words."""
    first = panel.blocks[0] if panel.blocks else None
    if first is None or first.kind != "paragraph":
        return ()
    lead = f"**{BLANK_MARK}: the hazard].** "
    return inserted("leave a blank for the hazard", first.span, lead)


def lead_blank(panel: Panel, asked: str) -> tuple[Fix, ...]:
    """A blank behind the bold words that a panel opens with."""
    first = panel.blocks[0] if panel.blocks else None
    lead = (
        next((r for r in first.runs if isinstance(r, Styled)), None) if isinstance(first, Paragraph) else None
    )
    if lead is None:
        return ()
    return inserted(f"leave a blank for {asked}", end_of(lead.span), f" {BLANK_MARK}: {asked}].")


def end_blank(panel: Panel, asked: str) -> tuple[Fix, ...]:
    """A blank behind a panel's last words."""
    at = last_text(panel.blocks)
    return inserted(f"leave a blank for {asked}", at, f" {BLANK_MARK}: {asked}].") if at else ()


def last_text(blocks: tuple[Block, ...]) -> Span | None:
    """The end of the last paragraph of a panel."""
    return end_of(blocks[-1].span) if blocks and blocks[-1].kind == "paragraph" else None


def tagged_exit(document: Document, near: Stage) -> Step | None:
    """A step of the document that leaves the machine locked out; one of the same stage first."""
    steps = [
        s
        for stage in (near, *(s for s in document.stages if s is not near and not s.shared))
        for s in stage.steps
    ]
    return next((s for s in steps if "tagged" in getattr(s.field("exit"), "value", "")), None)


def value_fixes(trouble: QuantityError, text: str, span: Span, proof: bool = False) -> tuple[Fix, ...]:
    """A value put right; `text` is all of it, `span` where the trouble stands.

    Only what looks alike, or is the same number in another form, may be put right with nobody looking: behind
    an unknown unit or a reversed range can be a wrong number too. Of a value that the `proof` about energy
    counts with, nothing is.
    """
    found = _value_fixes(trouble, text, span)
    return tuple(replace(fix, alone=False) for fix in found) if proof else found


def _value_fixes(trouble: QuantityError, text: str, span: Span) -> tuple[Fix, ...]:
    wrong = text[trouble.start : trouble.end]
    if span.line != span.end_line or span.end_column - span.column != len(wrong):
        return ()
    if trouble.instead:
        alike = len(wrong) == 1 and not wrong.isascii()
        alone = trouble.about != "range" and (alike or wrong.startswith("."))
        return replaced(f"write `{trouble.instead}`", span, trouble.instead, alone=alone)
    return _comma(trouble, text, span) if re.fullmatch("[0-9],[0-9]", wrong) else ()


def _comma(trouble: QuantityError, text: str, span: Span) -> tuple[Fix, ...]:
    """A point for a comma; before three digits it may also stand for thousands, so a person chooses."""
    if text.count(",") != 1:
        return ()
    column = span.column + 1
    comma = Span(span.path, span.line, column, span.line, column + 1)
    after = re.match("[0-9]+", text[trouble.start + 2 :])
    thousands = after is not None and len(after.group()) == 3
    found = replaced("write a point for the comma", comma, ".", alone=not thousands)
    return (*found, *(replaced("leave the comma out", comma, "") if thousands else ()))


def tolerance_blank(span: Span) -> tuple[Fix, ...]:
    """How far off a value may be, left to fill in."""
    text = f" ± {BLANK_MARK}: how far off it may be, with its unit]"
    return inserted("leave a blank for its tolerance", end_of(span), text)
