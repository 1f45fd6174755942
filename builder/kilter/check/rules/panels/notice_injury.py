"""A notice about people, or with energy sources."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.panels import all_panels
from kilter.check.prose import sentences_in
from kilter.check.rule import Context
from kilter.check.words import INJURY
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.text import Panel

CODE = "K406"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for panel in all_panels(context.document):
        if panel.word != "notice":
            continue
        if panel.sources:
            message = f"a notice guards nobody from `{panel.sources[0].text}`"
            yield warning(
                "notice-injury", message, panel.word_span, "use the signal word of the equipment profile"
            )
        elif hurt := INJURY.intersection(_told(panel)):
            message = f"a notice speaks of people: `{min(hurt)}`"
            yield warning(
                "notice-injury",
                message,
                panel.word_span,
                "use `caution`, or `warning` where it can maim or kill",
            )


def _told(panel: Panel) -> set[str]:
    """The words of what is told, not of what to do: "hold it with the other hand" hurts nobody."""
    told = (s for s in sentences_in(panel.blocks) if not s.imperative)
    return {w.strip(".,:;").casefold() for s in told for w in s.words}
