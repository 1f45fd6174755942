"""The paper to practise on: other questions than those that are handed out, as far as the facts allow."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from kilter.check.module import ModuleContext
from kilter.publish.training.packages.data import quiz_data
from kilter.publish.training.packages.figures import shown_figures
from kilter.publish.training.packages.write import picture_bytes
from kilter.publish.training.questions import paper
from kilter.publish.training.questions.model import Paper, Question

SERIAL = 0
"""No paper that is handed out has it."""


def practice(
    context: ModuleContext, bank: Sequence[Question], handed_out: Sequence[Paper]
) -> tuple[dict[str, Any], dict[str, bytes]]:
    """What the page asks, and its pictures by name; nothing where there is no question."""
    used = {q.id for each in handed_out for q in each.questions}
    left = tuple(q for q in bank if q.id not in used) or tuple(bank)
    made = paper(left, context.module.front, "A", SERIAL)
    if not made.questions:
        return {}, {}
    figures = shown_figures(context.library, made.questions)
    return quiz_data(context.module.front, (made,), figures, practice=True), picture_bytes(figures)
