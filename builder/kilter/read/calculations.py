"""The head of a calculation block: its name, and its inputs as fields.

Which calculations there are, and what each asks for, is not known here: the check says it.
"""

from __future__ import annotations

from kilter.model.document import Field
from kilter.model.text import Given
from kilter.read.cures import put
from kilter.read.fields import field_at
from kilter.read.notes import Notes
from kilter.source import Span

STACK = "stack"


def calculation_name(notes: Notes, word: str, argument: str, place: Span) -> str:
    """What is worked out: the block's argument; a `stack` block has none. Empty where it is missing."""
    if word == STACK:
        if argument:
            help = "write its parts as `:plus:` and `:minus:` below, and words about it below those"
            notes.error("bad-value", f"a stack takes no name: `{argument[:30]}`", place, help)
        return STACK
    if not argument:
        help = "write `:::{calc} torque`, or another calculation"
        notes.error("bad-value", "a calculation without a name", place, help)
    elif argument.casefold() == STACK:
        help = "write `:::{stack}`, with its parts as `:plus:` and `:minus:`"
        cure = put(notes.source, notes.source.whole_row(place.line - 1), f"{{calc}} {argument}", "{stack}")
        notes.error("bad-value", "a chain of dimensions has a block of its own", place, help, cure)
        return ""
    return argument


def given_in(notes: Notes, first: int, last: int) -> tuple[tuple[Given, ...], int]:
    """The inputs in rows first to last - 1, and how many rows they take; what is below is the caption."""
    found: list[Given] = []
    row = first
    while row < last and (field := field_at(notes.source, row)) is not None:
        if field.value:
            found.append(_given(field))
        else:
            help = f"write its value behind it, or delete `:{field.name}:`"
            notes.error("empty-field", f"input `:{field.name}:` says nothing", field.span, help)
        row += 1
    return tuple(found), row - first


def _given(field: Field) -> Given:
    return Given(
        name=field.name,
        value=field.value,
        span=field.span,
        name_span=field.name_span,
        value_span=field.value_span,
    )
