"""A source of which a profile does not say how it is proved dead."""

from collections.abc import Iterator

from kilter.check.lookup import source_key
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K232"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    if not context.document.is_profile:
        return
    for name, source in context.document.profile.sources.items():
        if source.prove is None:
            help = "write where and how it is measured: `prove: voltmeter at the motor plug, below 1 V`"
            message = f"nothing says how source `{name}` is proved dead"
            place = context.document.places.key("sources", name)
            cure = source_key(context, name, "kind", "prove", "where and how it is measured, and its limit")
            yield warning("no-proof", message, place, help, fixes=cure)
