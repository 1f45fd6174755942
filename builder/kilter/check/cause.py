"""One unknown name makes the proof about energy fail elsewhere: those findings say which to mend first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from kilter.check.rule import names_in
from kilter.diagnostic import Diagnostic, Severity

_OF = ("source", "guard", "test", "zone", "role", "field", "step", "shared-stage", "equipment")
_NAMES = frozenset(f"unknown-{what}" for what in _OF)
"""What the proof leans on: a name that it does not know does nothing in it."""
_FORMS = frozenset(("bad-hands", "bad-exit", "bad-clear-of"))
"""Energy rules about how a field is written: these are a cause, not a consequence."""


def with_cause(findings: Iterable[Diagnostic]) -> list[Diagnostic]:
    """The same; findings about energy say further where the first unknown name of their document stands."""
    found = list(findings)
    first = min((d for d in found if _is_cause(d)), key=lambda d: d.sort_key, default=None)
    if first is None:
        return found
    consequences = names_in("energy") - _FORMS
    return [_told(d, first) if d.rule in consequences and d.severity is Severity.ERROR else d for d in found]


def _is_cause(found: Diagnostic) -> bool:
    mark = found.rule == "stray-brace" and found.message.endswith("is not known")
    return found.severity is Severity.ERROR and (found.rule in _NAMES or mark)


def _told(found: Diagnostic, first: Diagnostic) -> Diagnostic:
    place = f"line {first.span.line}"
    if first.span.path != found.span.path:
        place += f" of {first.span.path}"
    more = f"It may come from the unknown name in {place}: mend that first."
    return replace(found, why=f"{found.why} {more}".strip())
