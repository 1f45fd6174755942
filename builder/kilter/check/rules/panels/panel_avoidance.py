"""A panel that does not say how to avoid the hazard."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import end_blank, has_blank
from kilter.check.panels import after_lead, all_panels, graded, hazard
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity

CODE = "K403"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for panel in all_panels(context.document):
        said = after_lead(panel) if hazard(panel) is not None else ()
        if said and not has_blank(panel) and not any(s.imperative for s in said):
            message = f"{panel.word} panel does not say how to avoid the hazard"
            help = "end it with what to do, such as `Let the spring out first.`"
            cure = end_blank(panel, "how to avoid it")
            yield graded("panel-avoidance", panel, message, help, fixes=cure)
