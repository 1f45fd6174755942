"""`:name: value` lines under a heading and at the head of a directive."""

from __future__ import annotations

import re
from unicodedata import normalize

from kilter.diagnostic import Fix, did_you_mean
from kilter.model.document import Field
from kilter.model.text import Name
from kilter.read.cures import end_of, inserted, replaced, spelt, without_rows
from kilter.read.inline import split_names
from kilter.read.notes import Notes
from kilter.source import Source, Span

STEP_FIELDS = (
    "id",
    "hands",
    "zone",
    "clear-of",
    "origin",
    "switch",
    "fastener",
    "friction",
    "hold",
    "do",
    "go-to",
    "exit",
)
STAGE_FIELDS = ("id", "hands", "zone", "clear-of", "origin", "fastener", "friction")
RESERVED_FIELDS = ("looked", "takes", "sure", "leaves", "cures")
LAST_LINE_FIELDS = ("exit", "go-to")
MANY = ("clear-of",)
"""Fields that may stand more than once."""

_LINE = re.compile(r"^( {0,3}):([^:\n]+):(?:[ \t]+(.*?))?[ \t]*$")


def field_at(source: Source, row: int) -> Field | None:
    """The field that stands in a 0-based row, not yet checked."""
    match = _LINE.match(source.row(row))
    if not match:
        return None
    value_at = match.start(3) if match.group(3) else len(source.row(row).rstrip())
    return Field(
        name=match.group(2).strip(),
        value=(match.group(3) or "").strip(),
        span=source.whole_row(row),
        name_span=source.in_row(row, match.start(2), match.end(2)),
        value_span=source.in_row(row, value_at, len(source.row(row).rstrip())),
    )


def fields_in(source: Source, first: int, last: int) -> list[Field]:
    """Fields in rows first to last - 1; an indented row carries on the field above it."""
    found: list[Field] = []
    for row in range(first, last):
        if (field := field_at(source, row)) is not None:
            found.append(field)
        elif found and source.row(row).strip():
            more = source.row(row).strip()
            before = found[-1]
            end = source.whole_row(row)
            span = Span(source.path, before.span.line, before.span.column, end.end_line, end.end_column)
            value = f"{before.value} {more}".strip()
            found[-1] = before.replace(value=value, span=span)
    return found


def checked(notes: Notes, fields: list[Field], allowed: tuple[str, ...], where: str) -> tuple[Field, ...]:
    """The fields that are known here; each other one is noted and left out."""
    kept: list[Field] = []
    for field in fields:
        if field.name in RESERVED_FIELDS:
            message = f"field `:{field.name}:` is reserved, not yet in use"
            notes.error("not-yet", message, field.name_span, "delete it for now", deleted(notes, field))
        elif field.name not in allowed:
            _unknown(notes, field, allowed, where)
        elif not field.value:
            message = f"field `:{field.name}:` says nothing"
            cure = _blank(field) if field.name == "origin" else ()
            notes.error("empty-field", message, field.span, _EXAMPLES.get(field.name, ""), cure)
        elif field.name not in MANY and any(k.name == field.name for k in kept):
            message = f"field `:{field.name}:` stands twice"
            cure = deleted(
                notes, field, alone=any(k.name == field.name and k.value == field.value for k in kept)
            )
            notes.error("duplicate-key", message, field.name_span, "keep one of them", cure)
        else:
            kept.append(_normal(field))
    return tuple(kept)


def _normal(field: Field) -> Field:
    """Names of steps are compared letter by letter, so they take the form that a slug has."""
    if field.name not in ("go-to", "do"):
        return field
    return field.replace(value=normalize("NFC", field.value))


def _unknown(notes: Notes, field: Field, allowed: tuple[str, ...], where: str) -> None:
    if field.name in STEP_FIELDS:
        help = "it belongs to a step: write it under an H3"
        notes.error(
            "unknown-field", f"field `:{field.name}:` does not belong under {where}", field.name_span, help
        )
        return
    help = did_you_mean(field.name, allowed)
    cure = spelt(notes.source, field.name_span, field.name, allowed, alone=True)
    notes.error("unknown-field", f"field `:{field.name}:` is not known", field.name_span, help, cure)


def _blank(field: Field) -> tuple[Fix, ...]:
    asked = "[fill in: the maker's manual and its page, measured, or shop rule]"
    return inserted("leave a blank for it", end_of(field.span), f" {asked}")


def deleted(notes: Notes, field: Field, alone: bool = False) -> tuple[Fix, ...]:
    """A field taken out with its rows."""
    return replaced(f"delete `:{field.name}:`", without_rows(notes.source, field.span), "", alone)


def names_of(field: Field) -> tuple[Name, ...]:
    """The comma-separated names of a field's value."""
    start = field.value_span

    def span(a: int, b: int) -> Span:
        if start.line != start.end_line:
            return start
        return Span(start.path, start.line, start.column + a, start.line, start.column + b)

    return split_names(field.value, span)


_EXAMPLES = {
    "origin": "write `maker's manual p. 41`, `measured` or `shop rule`",
    "fastener": "write size and class, such as `:fastener: M8 8.8`",
    "friction": "write `:friction: K 0.2`, `:friction: µ 0.12`, or a word such as `lubricated`",
    "hold": "write what a second person looks at: `:hold: both prop pins are home`",
    "do": "write the shared stage's name, such as `:do: isolate-everything`",
    "go-to": "write a step, such as `:go-to: #swap-the-fuse`",
    "exit": "write one of `returned to service`, `left locked out, tagged`, `left as found`",
    "hands": "write `:hands: controls - why nobody reaches in`",
    "zone": "write a zone of the equipment profile",
    "clear-of": "write `:clear-of: source - what stands between`",
}
