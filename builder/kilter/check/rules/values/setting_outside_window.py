"""A setting that aims outside the window of its switch."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.marked import shortened
from kilter.check.rule import Context
from kilter.check.switched import switched
from kilter.compute.switch import fit
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K327"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for one in switched(context):
        allowed = one.window
        if allowed is not None and fit(allowed, one.setting) == "outside":
            shown = shortened(one.marked.role.text)
            message = f"setting `{shown}` lies outside the window of `{one.name}`, {one.shown(allowed)}"
            help = "set it inside the window, or mend the switch's figures in the profile"
            yield error("setting-outside-window", message, one.marked.span, help, why=_WHY)


_WHY = "It may not operate, may lose its contact by itself, or be driven past the end of its travel."
