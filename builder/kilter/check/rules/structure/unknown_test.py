"""A test that is nearly one of those the profile lists, or none of them."""

from collections.abc import Iterator
from dataclasses import replace

from kilter.check.lookup import marks, unknown_name
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, nearest

CODE = "K222"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    if context.equipment is None or not context.equipment.before_service:
        return
    tests = context.equipment.before_service
    for role in marks(context.document, "tests"):
        for name in role.names:
            found = unknown_name("unknown-test", SEVERITY, "test", name, tests, context, "before-service")
            if found is not None:
                # a further test is welcome; it only does not count for the return to service
                further = nearest(name.text, tests) is None
                yield replace(found, severity=Severity.HINT) if further else found
