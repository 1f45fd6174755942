"""A panel that does not say what happens."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import has_blank, lead_blank
from kilter.check.panels import after_lead, all_panels, graded, hazard, says_consequence
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity

CODE = "K402"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for panel in all_panels(context.document):
        if hazard(panel) is None or has_blank(panel):
            continue
        said = after_lead(panel)
        if any(says_consequence(s) for s in said):
            continue
        rest = "" if said else ", nor how to avoid it"
        message = f"{panel.word} panel does not say what happens{rest}"
        help = (
            "add a sentence such as `It can crush a hand.` between the hazard and the way to avoid it; "
            "can, could, may, might, will, or a word of harm or damage shows it"
        )
        sure = all(s.imperative for s in said) and len(said) < 2
        cure = lead_blank(panel, "what can happen" if said else "what can happen, and how to avoid it")
        yield graded("panel-consequence", panel, message, help, sure=sure, fixes=cure)
