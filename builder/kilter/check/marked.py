"""The values marked in the steps of a document, read once for all rules about values."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from kilter.check.once import once
from kilter.check.rule import Context
from kilter.compute.quantity import Quantity, QuantityError, parse_quantity
from kilter.compute.reading import Phase, split_reading
from kilter.model.document import VALUES, Document, Stage, Step
from kilter.model.library import Library
from kilter.model.text import Role
from kilter.read.blanks import BLANK_MARK
from kilter.source import Span

PURPOSES = {"torque": "torque", "wait": "time"}
"""Marks that fit one dimension only; a setting and a reading may be of any."""


@dataclass(frozen=True, slots=True)
class Marked:
    """One `{torque}`, `{set}`, `{read}` or `{wait}`: what it says, or why it can't be read."""

    stage: Stage
    step: Step
    role: Role
    phase: Phase | None
    name: str
    """Of a reading; empty where it has none."""
    quantity: Quantity | None
    trouble: QuantityError | None

    @property
    def purpose(self) -> str:
        return self.role.name

    @property
    def span(self) -> Span:
        return self.role.text_span


@once(most=4)
def marked_values(document: Document) -> tuple[Marked, ...]:
    """Every marked value in the steps, in order; what is in panels and figures says nothing."""
    return tuple(
        _read(stage, step, role)
        for stage, step in document.all_steps()
        for role in step.roles
        if role.name in VALUES and role.text
    )


def _read(stage: Stage, step: Step, role: Role) -> Marked:
    phase, name, start = split_reading(role.text) if role.name == "read" else (None, "", 0)
    try:
        quantity = parse_quantity(role.text[start:])
    except QuantityError as refused:
        return Marked(stage, step, role, phase, name, None, refused.moved(start))
    return Marked(stage, step, role, phase, name, quantity, None)


def readable(context: Context, *purposes: str) -> Iterator[tuple[Marked, Quantity]]:
    """The values of these purposes that could be read."""
    for marked in marked_values(context.document):
        if marked.quantity is not None and marked.purpose in purposes:
            yield marked, marked.quantity


def place(library: Library, span: Span, text: str, start: int, end: int) -> Span:
    """Characters `start` to `end` of a text that stands in `span`; the whole span if it can't be told."""
    source = library.sources.get(span.path)
    if source is None or span.line != span.end_line:
        return span
    row = source.row(span.line - 1)
    at = row.find(text, span.column - 1)
    if at < 0 or at + len(text) > span.end_column - 1:
        return span
    return source.in_row(span.line - 1, at + min(start, len(text) - 1), at + min(end, len(text)))


def troubles(context: Context) -> Iterator[tuple[Marked, QuantityError]]:
    """The values that can't be read, but for the blanks of a new file, which are reported as such."""
    for marked in marked_values(context.document):
        if marked.trouble is not None and BLANK_MARK not in marked.role.text:
            yield marked, marked.trouble


def shortened(text: str) -> str:
    """A text as it fits into a message."""
    return text if len(text) <= 40 else text[:37] + "..."
