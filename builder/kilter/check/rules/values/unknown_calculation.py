"""A calculation, or an input of one, that does not exist."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.calculated import PARTS, STACK, calculations, fields_of
from kilter.check.calculation_inputs import Trouble, all_troubles
from kilter.check.rule import Context
from kilter.compute.calculation import NAMES
from kilter.diagnostic import Diagnostic, Fix, Severity, did_you_mean, error
from kilter.model.text import Calculation, Given
from kilter.read.cures import spelt
from kilter.source import Source

CODE = "K318"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for block in calculations(context.document):
        if block.name and block.name not in NAMES:
            known = [n for n in NAMES if n != STACK]
            cure = spelt(_source(context, block), block.name_span, block.name, known, alone=True)
            message = f"calculation `{block.name[:40]}` is not known"
            help = did_you_mean(block.name, known)
            yield error("unknown-calculation", message, block.name_span, help, fixes=cure)
    for block, trouble in all_troubles(context):
        if trouble.unknown and trouble.given is not None:
            yield _unknown(context, block, trouble, trouble.given)


def _unknown(context: Context, block: Calculation, trouble: Trouble, given: Given) -> Diagnostic:
    taken = {g.name for g in block.given}
    fields = fields_of(block.name)
    asked, free = [i.name for i in fields], [i.name for i in fields if i.many or i.name not in taken]
    help = trouble.error.help
    cure: tuple[Fix, ...] = ()
    if given.name not in asked:
        help = _parts(block, given.name) or did_you_mean(given.name, free)
        cure = spelt(_source(context, block), given.name_span, given.name, free, alone=True)
    return error("unknown-calculation", trouble.error.message, given.name_span, help, fixes=cure)


def _parts(block: Calculation, name: str) -> str:
    if block.name == STACK and name == "part":
        return "write " + " or ".join(f"`:{p}:`" for p in PARTS) + ": the field says the sign"
    return ""


def _source(context: Context, block: Calculation) -> Source | None:
    return context.library.sources.get(block.span.path)
