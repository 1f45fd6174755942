"""The hand-out: the procedure on A4, in sizes for a bench, with room for notes."""

from __future__ import annotations

from kilter.publish.cards.data import card_data
from kilter.publish.cards.heads import Data
from kilter.publish.view import DocumentView

SCALE = 1.2
"""Body 12 pt: 10.3 minutes of arc at 700 mm (x-height 0.496 em); values and step numbers are set at 14 pt: 12.0."""


def handout_data(view: DocumentView, width: int, height: int) -> Data:
    return {**card_data(view, width, height, "Hand-out"), "scale": SCALE}
