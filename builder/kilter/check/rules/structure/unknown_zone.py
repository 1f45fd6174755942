"""A zone that the profile does not know."""

from collections.abc import Iterator

from kilter.check.lookup import fields, unknown_name
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.text import Name

CODE = "K224"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    if context.equipment is None:
        return
    for field in fields(context.document, "zone"):
        name = Name(text=field.value, span=field.value_span)
        found = unknown_name(
            "unknown-zone", SEVERITY, "zone", name, context.equipment.zones, context, "zones"
        )
        if found is not None:
            yield found
