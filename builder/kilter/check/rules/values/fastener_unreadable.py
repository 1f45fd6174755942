"""A `:fastener:` that names no screw, or a `:friction:` that says none or can't be that screw's."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from kilter.check.fastened import fastener_in, field_of, friction_in, unreadable
from kilter.check.marked import place
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, error
from kilter.model.document import Field
from kilter.read.cures import one_row, replaced
from kilter.source import Span

if TYPE_CHECKING:
    from kilter.compute.fastener import FastenerError

CODE = "K321"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for field, trouble in unreadable(context):
        span = place(context.library, field.value_span, field.value, trouble.start, trouble.end)
        message = f"`:{field.name}:` {trouble.message}"
        yield error("fastener-unreadable", message, span, trouble.help, fixes=_cure(field, trouble, span))
    yield from _impossible(context)


def _cure(field: Field, trouble: FastenerError, span: Span) -> tuple[Fix, ...]:
    wrong = field.value[trouble.start : trouble.end]
    if not trouble.instead or not one_row(span) or span.end_column - span.column != len(wrong):
        return ()
    return replaced(f"write `{trouble.instead}`", span, trouble.instead)


def _impossible(context: Context) -> Iterator[Diagnostic]:
    seen: set[Span] = set()
    for stage, step in context.document.all_steps():
        field = field_of(stage, step, "friction")
        friction, fastener = friction_in(field), fastener_in(field_of(stage, step, "fastener"))
        if field is None or friction is None or fastener is None or field.span in seen:
            continue
        from kilter.compute.fastener_friction import impossible

        why = impossible(friction, fastener.thread)
        if why:
            seen.add(field.span)
            help = "look at the number: a dry screw is near K 0.2, a lubricated one near K 0.15"
            yield error("fastener-unreadable", why, field.value_span, help)
