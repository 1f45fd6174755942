"""A `:hands:` whose first word is not known."""

from collections.abc import Iterator

from kilter.check.lookup import before_dash, fields
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, did_you_mean, error
from kilter.model.base import fold

CODE = "K214"
SEVERITY = Severity.ERROR

HANDS = ("away", "controls", "open", "probe", "inside", "live")
"""From looking only to energised work."""


def check(context: Context) -> Iterator[Diagnostic]:
    for field in fields(context.document, "hands"):
        word, *rest = before_dash(field).value.replace(",", " ").split() or [""]
        if fold(word) not in HANDS:
            help = did_you_mean(word, HANDS)
            yield error("unknown-hands", f"hands `{word}` is not known", field.value_span, help)
        elif rest and fold(word) != "live":
            help = f"write `:hands: {fold(word)} - why`, with a dash before the reason"
            message = f"words after `{word}` without a dash before them"
            yield error("unknown-hands", message, field.value_span, help)
