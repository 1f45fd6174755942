"""A screw with a torque, and nobody says how it is lubricated."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fastened import fastened, field_of
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, hint
from kilter.model.document import Field
from kilter.read.blanks import BLANK_MARK
from kilter.read.cures import end_of, inserted
from kilter.source import Span

CODE = "K325"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    seen: set[Span] = set()
    for one in fastened(context):
        field = one.field
        if field is None or field.span in seen or BLANK_MARK in field.value:
            continue
        if field_of(one.marked.stage, one.marked.step, "friction") is None:
            seen.add(field.span)
            message = f"`{field.value[:40]}` is tightened, and nothing says with which friction"
            help = "write `:friction: K 0.2`, `dry` or `lubricated`, as the maker's table has it"
            yield hint("friction-missing", message, field.span, help, why=_WHY, fixes=_cure(field))


_WHY = "The same torque pulls a greased screw up to twice as hard as a dry one."


def _cure(field: Field) -> tuple[Fix, ...]:
    text = f"\n:friction: {BLANK_MARK}: K, µ, dry or lubricated, as the maker's table has it]"
    return inserted("leave a blank for its friction", end_of(field.span), text)
