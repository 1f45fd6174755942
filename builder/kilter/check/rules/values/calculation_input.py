"""A calculation that lacks an input, or has one that can't be read or used."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.calculated import fields_of
from kilter.check.calculation_inputs import Trouble, all_troubles
from kilter.check.marked import place
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, error
from kilter.model.text import Calculation
from kilter.read.blanks import BLANK_MARK
from kilter.read.cures import end_of, inserted
from kilter.source import Span

CODE = "K319"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for block, trouble in all_troubles(context):
        if not trouble.unknown:
            message = f"calculation `{block.name}`: {trouble.error.message}"
            span, cure = _place(context, block, trouble), _cure(context, block, trouble)
            yield error("calculation-input", message, span, trouble.error.help, fixes=cure)


def _place(context: Context, block: Calculation, trouble: Trouble) -> Span:
    given, wrong = trouble.given, trouble.error
    if given is None:
        return block.name_span
    if wrong.end <= wrong.start:
        return given.value_span
    return place(context.library, given.value_span, given.value, wrong.start, wrong.end)


def _cure(context: Context, block: Calculation, trouble: Trouble) -> tuple[Fix, ...]:
    """A blank for an input that is missing, below those that are there."""
    name = trouble.error.name
    source = context.library.sources.get(block.span.path)
    wanted = next((i for i in fields_of(block.name) if i.name == name), None)
    if trouble.given is not None or wanted is None or source is None:
        return ()
    last = block.given[-1].span if block.given else source.whole_row(block.span.line - 1)
    example = f", such as {wanted.example}" if wanted.example else ""
    text = f"\n:{name}: {BLANK_MARK}: {wanted.ask}{example}]"
    return inserted(f"leave a blank for `{name}`", end_of(last), text)
