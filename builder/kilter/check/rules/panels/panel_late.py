"""A panel below the instruction that it warns of."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.text import Listing, Panel, Paragraph, Table

CODE = "K404"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        told = False
        for block in step.blocks:
            if isinstance(block, Panel) and told:
                message = f"{block.word} panel stands after the instruction it warns of"
                help = "move it up, right under the step's heading and fields"
                yield error("panel-late", message, block.word_span, help)
            told = told or isinstance(block, (Paragraph, Listing, Table))
