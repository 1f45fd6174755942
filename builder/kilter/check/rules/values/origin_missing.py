"""A torque, setting or limit that does not say where it comes from."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import field_under
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.front import ProfileFront

CODE = "K309"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for stage, step in context.document.all_steps():
        if step.field("origin") or stage.field("origin"):
            continue
        values = [r for r in step.roles if r.name in ("torque", "set", "read")]
        if values:
            what = f"`{values[0].text}`" if len(values) == 1 else f"{len(values)} values"
            message = f"step `{step.title}`: {what} without an origin"
            cure = field_under(step, "leave a blank for its origin", f":origin: {_ASKED}")
            yield warning("origin-missing", message, values[0].span, _HELP, fixes=cure)
    yield from _switches(context)


def _switches(context: Context) -> Iterator[Diagnostic]:
    front = context.document.front
    if not isinstance(front, ProfileFront) or front.origin:
        return
    for name, switch in front.switches.items():
        if not switch.origin:
            span = context.document.places.key("switches", name)
            message = f"switch `{name}`: figures without an origin"
            yield warning("origin-missing", message, span, "write `origin: switch data sheet` into its entry")


_ASKED = "[fill in: the maker's manual and its page, measured, or shop rule]"
_HELP = "write `:origin: maker's manual p. 41`, `measured` or `shop rule` under the step's or stage's heading"
