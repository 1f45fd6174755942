"""A guard that the profile does not know."""

from collections.abc import Iterator

from kilter.check.lookup import marks, unknown_name
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity

CODE = "K221"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    if context.equipment is None:
        return
    for role in marks(context.document, "removes", "refits"):
        for name in role.names:
            guards = context.equipment.guards
            found = unknown_name("unknown-guard", SEVERITY, "guard", name, guards, context, "guards")
            if found is not None:
                yield found
