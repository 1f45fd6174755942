"""A panel below the instruction that it warns of."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import above_text
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Edit, Fix, Severity, error
from kilter.model.document import Step
from kilter.model.text import Listing, Panel, Paragraph, Table
from kilter.read.cures import without_rows
from kilter.source import Span

CODE = "K404"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        told = False
        for block in step.blocks:
            if isinstance(block, Panel) and told:
                message = f"{block.word} panel stands after the instruction it warns of"
                help = "move it up, right under the step's heading and fields"
                yield error("panel-late", message, block.word_span, help, fixes=_moved(context, step, block))
            told = told or isinstance(block, (Paragraph, Listing, Table))


def _moved(context: Context, step: Step, panel: Panel) -> tuple[Fix, ...]:
    """The panel as it is, above everything that the step says."""
    source, span = context.library.sources.get(panel.span.path), panel.span
    if source is None:
        return ()
    text = "\n".join(source.lines[span.line - 1 : span.end_line])
    below = span.end_line < len(source.lines) and not source.row(span.end_line).strip()
    whole = Span(
        span.path, span.line, 1, span.end_line + below, len(source.row(span.end_line - 1 + below)) + 1
    )
    edits = (Edit(without_rows(source, whole), ""), above_text(step, text))
    return (Fix("move the panel up", edits),)
