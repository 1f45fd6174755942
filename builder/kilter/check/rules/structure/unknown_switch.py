"""A switch that the profile does not know."""

from collections.abc import Iterator

from kilter.check.lookup import fields, unknown_name
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity
from kilter.read.fields import names_of

CODE = "K223"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    if context.equipment is None:
        return
    for field in fields(context.document, "switch"):
        # what follows the first comma tells how its travel is measured
        for name in names_of(field)[:1]:
            known = context.equipment.switches
            found = unknown_name("unknown-switch", SEVERITY, "switch", name, known, context, "switches")
            if found is not None:
                yield found
