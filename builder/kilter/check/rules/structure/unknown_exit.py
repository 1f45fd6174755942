"""An `:exit:` that is none of the three ways out."""

from collections.abc import Iterator

from kilter.check.lookup import fields
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, did_you_mean, error
from kilter.model.base import fold

CODE = "K213"
SEVERITY = Severity.ERROR

EXITS = ("returned to service", "left locked out, tagged", "left as found")


def check(context: Context) -> Iterator[Diagnostic]:
    for field in fields(context.document, "exit"):
        if fold(field.value) not in EXITS:
            help = did_you_mean(field.value, EXITS)
            yield error("unknown-exit", f"exit `{field.value}` is not known", field.value_span, help)
