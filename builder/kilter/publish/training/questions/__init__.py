"""Questions that are made from the facts of checked documents, and the papers that are drawn from them.

A right answer is computed, never typed; a wrong one is proved wrong before it is offered. What can't be proved
gives no question. Each question is seeded by its own fact: an edit elsewhere changes none of the others.
"""

from kilter.publish.training.questions.bank import allowed, bank
from kilter.publish.training.questions.model import (
    KINDS,
    Choice,
    Cite,
    FigureRef,
    Paper,
    Question,
    Region,
)
from kilter.publish.training.questions.paper import paper, papers

__all__ = [
    "KINDS", "Choice", "Cite", "FigureRef", "Paper", "Question", "Region", "allowed", "bank", "paper", "papers",
]  # fmt: skip
