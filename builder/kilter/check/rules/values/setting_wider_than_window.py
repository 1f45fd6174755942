"""A setting whose tolerance reaches out of the window of its switch."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.marked import shortened
from kilter.check.rule import Context
from kilter.check.switched import switched
from kilter.compute.switch import fit
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K328"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for one in switched(context):
        allowed = one.window
        if allowed is not None and fit(allowed, one.setting) == "too wide":
            shown = shortened(one.marked.role.text)
            message = f"setting `{shown}` reaches out of the window of `{one.name}`, {one.shown(allowed)}"
            help = f"write a tolerance that stays inside {one.shown(allowed)}"
            yield error("setting-wider-than-window", message, one.marked.span, help, why=_WHY)


_WHY = "A setting that the procedure calls good may not operate, or drive the switch too far."
