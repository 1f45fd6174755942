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
    travels = {one.marked.step.slug for one in switched(context) if one.setting.dimension == one.dimension}
    for one in switched(context):
        allowed, shown = one.window, shortened(one.marked.role.text)
        if allowed is not None and fit(allowed, one.setting) == "outside":
            message = f"setting `{shown}` lies outside the window of `{one.name}`, {one.shown(allowed)}"
            help = "set it inside the window, or mend the switch's figures in the profile"
            yield error("setting-outside-window", message, one.marked.span, help, why=_WHY)
        elif one.dimension and one.marked.step.slug not in travels:
            what, figures = one.setting.dimension, one.dimension
            message = f"setting `{shown}` is given as {what}, the travel of `{one.name}` as {figures}"
            help = f"write the setting as {figures}, or delete `:switch:` where no switch is set"
            yield error("setting-outside-window", message, one.marked.span, help)


_WHY = "It may not operate, may lose its contact by itself, or be driven past the end of its travel."
