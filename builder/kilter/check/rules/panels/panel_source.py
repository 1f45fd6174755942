"""A panel without a source whose words name one."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.panels import all_panels, panel_words
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, hint
from kilter.model.base import fold

CODE = "K405"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    if context.equipment is None:
        return
    for panel in all_panels(context.document):
        if panel.sources or panel.word == "notice":
            continue
        text = panel_words(panel)
        named = [s for s in context.equipment.sources if re.search(rf"\b{re.escape(fold(s))}\b", text)]
        if named:
            listed = ", ".join(named)
            message = f"{panel.word} panel speaks of `{listed}` but guards no source"
            help = f"write `:::{{{panel.word}}} {listed}` if it warns of that source; only then it counts as its caution"
            yield hint("panel-source", message, panel.word_span, help)
