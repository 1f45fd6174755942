"""An effect or a value that is marked inside a panel."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.panels import all_panels
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.document import REFERENCES
from kilter.model.text import Role, all_runs

CODE = "K407"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for panel in all_panels(context.document, stages=False):
        for run in all_runs(panel.blocks):
            if isinstance(run, Role) and run.name not in REFERENCES:
                message = f"mark `{{{run.name}}}` inside a panel does nothing"
                help = "say it in the step's text, where it is done; a panel only warns"
                yield error("panel-mark", message, run.span, help)
