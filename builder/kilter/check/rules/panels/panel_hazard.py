"""A panel that does not open with the hazard in bold."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import has_blank, hazard_blank
from kilter.check.panels import all_panels, graded, hazard
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.text import SIGNAL_WORDS

CODE = "K401"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for panel in all_panels(context.document):
        if has_blank(panel):
            continue
        lead = hazard(panel)
        if lead is None:
            message = f"{panel.word} panel does not open with its hazard in bold"
            help = "begin it with the hazard: `**Crushing.** What happens. How to avoid it.`"
            yield graded("panel-hazard", panel, message, help, fixes=hazard_blank(panel))
        elif lead.strip(" .:!").casefold() in SIGNAL_WORDS:
            message = f"{panel.word} panel names no hazard, only its signal word"
            help = "write what it is, such as `**Electric shock.**`; the signal word is printed anyway"
            yield graded("panel-hazard", panel, message, help, fixes=hazard_blank(panel))
