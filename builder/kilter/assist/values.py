"""What the engine answers with. Lines and columns are those of `Span`: from 1, in characters."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kilter.source import Span

OfferKind = Literal[
    "source", "guard", "test", "zone", "switch", "tool", "part", "item", "step", "stage", "document",
    "field", "mark", "directive", "key", "word", "unit", "block", "file",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that could be written here."""

    label: str
    insert: str
    """What takes the place of `replace`; may be several lines, its gaps are marked blanks."""
    kind: OfferKind
    detail: str
    """A few words beside the label; may be empty."""
    documentation: str
    """Markdown, a sentence or two; may be empty."""
    replace: Span
    """One row, from the first letter typed to at least the cursor: an editor narrows the list by its text."""


@dataclass(frozen=True, slots=True)
class Hover:
    """What there is to know about the thing under the pointer."""

    markdown: str
    span: Span


@dataclass(frozen=True, slots=True)
class Part:
    """A stage or a step in the outline."""

    title: str
    detail: str
    """`shared`, the exit, or nothing."""
    kind: Literal["stage", "step"]
    span: Span
    """All of it."""
    name_span: Span
    """Its heading."""
    parts: tuple[Part, ...] = ()


class RefusedError(Exception):
    """A new name that can't be given; the text says why, in words for the writer."""
