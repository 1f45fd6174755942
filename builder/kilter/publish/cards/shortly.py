"""A panel said shortly: what is printed again after a page break, where all of it stands once on the card already."""

from __future__ import annotations

from kilter.check.panels import after_lead, hazard
from kilter.check.prose import MARK
from kilter.model.text import Panel, Paragraph

WHOLE = "danger"
"""What can kill is never shortened."""


def shortly(panel: Panel) -> tuple[str, str]:
    """The hazard and how to avoid it, without what can happen; both empty where the panel is printed whole again.

    Only where the three parts are told apart for sure: one paragraph, a bold lead, sentences that say what can
    happen, then nothing but instructions in plain words.
    """
    lead = hazard(panel)
    if panel.word == WHOLE or lead is None or len(panel.blocks) != 1:
        return "", ""
    assert isinstance(panel.blocks[0], Paragraph)
    said = after_lead(panel)
    orders = [s.imperative for s in said]
    avoid = " ".join(s.text for s in said if s.imperative)
    if MARK in avoid or not any(orders) or all(orders) or orders != sorted(orders):
        return "", ""
    return lead, avoid
