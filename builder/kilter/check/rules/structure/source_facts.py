"""Facts of a source that contradict or need each other."""

from collections.abc import Iterator

from kilter.check.lookup import key_place, source_key
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, warning
from kilter.model.document import Document
from kilter.model.front import EnergySource
from kilter.source import Span

CODE = "K230"
SEVERITY = Severity.ERROR

NEVER_DEAD_BY_ITSELF = ("mains", "battery")
FED = ("heat", "capacitor", "pneumatic", "vacuum", "motion", "pressure")
"""Kinds that something else nearly always keeps up."""


def check(context: Context) -> Iterator[Diagnostic]:
    if not context.document.is_profile:
        return
    for name, source in context.document.profile.sources.items():
        for key, message, help in _troubles(name, source):
            cure = source_key(context, name, key, *_ASKED[key]) if f"`{_ASKED[key][0]}: " in help else ()
            yield error("source-facts", message, _place(context.document, name, key), help, fixes=cure)
        if source.kind in FED and not source.can_be_cut:
            message = f"nothing feeds or cuts off `{name}`: no step can make it safe, only prove it"
            help = (
                "write `fed-by: [its feed]`, or `isolate:` if it can be cut off by itself; a sealed vessel that "
                "stays closed: leave it out of the zones where hands go, or explain it with `:clear-of:`"
            )
            yield warning("source-facts", message, _place(context.document, name, "kind"), help)
        if source.lockable and source.isolate is None:
            message = f"source `{name}` is lockable, but nothing says how it is isolated"
            help = "write how it is cut off and held: `isolate: plug out, in a locked case`"
            cure = source_key(context, name, "lockable", "isolate", "how it is cut off and held")
            yield warning(
                "source-facts", message, _place(context.document, name, "lockable"), help, fixes=cure
            )


_ASKED = {
    "kind": ("why", "what energy it is"),
    "release": ("bleed", "how long it takes"),
    "bleed": ("", ""),
    "loaded-by": ("", ""),
}
"""The key that is missing beside another, and what its blank asks for."""


def _place(document: Document, name: str, key: str) -> Span:
    return key_place(document.places, "sources", name, key)


def _troubles(name: str, source: EnergySource) -> Iterator[tuple[str, str, str]]:
    """The key to point at, the message, the help."""
    if source.kind == "other" and source.why is None:
        yield "kind", f"source `{name}` is of kind `other` without a `why`", "write `why: what energy it is`"
    if source.kind in NEVER_DEAD_BY_ITSELF and not source.can_be_cut:
        help = "write `lockable: true` and `isolate: how it is cut off and held`, or `fed-by:` its feed"
        yield "kind", f"nothing cuts off `{name}`, so it would never count as live", help
    if source.release == "bleed" and source.bleed is None:
        yield "release", f"source `{name}` bleeds, but no time is given", "write how long: `bleed: 5 min`"
    if source.bleed is not None and source.release != "bleed":
        help = "write `release: bleed`, or delete the time"
        yield "bleed", f"source `{name}` has a time to bleed, but is not released so", help
    if source.loaded_by and source.release is None:
        help = "write how it is let go again: `release: action`"
        yield "loaded-by", f"source `{name}` is loaded by work, but nothing releases it", help
