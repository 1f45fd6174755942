"""Numbers that read clockwise round a figure; for the time of writing, before the numbers are used in a text."""

from __future__ import annotations

from collections.abc import Sequence

from kilter.picture.callouts.layout import lay_out
from kilter.picture.callouts.model import SIDES, WIDE, Anchor, Label, Style


def clockwise(items: Sequence[Anchor], width: float, height: float, style: Style = WIDE) -> dict[int, int]:
    """The new number of each old one, so that the margins read 1, 2, 3 .. from the upper left, clockwise.

    The leaders come first and the numbers follow them, so none cross; the other way round, straight leaders to
    numbers in order would cross in most figures."""
    labels = lay_out(items, width, height, style).labels
    return {label.number: k for k, label in enumerate(sorted(labels, key=_round), start=1)}


def _round(label: Label) -> tuple[int, float, int]:
    """Top from the left, right downward, bottom from the right, left upward."""
    x, y = label.end
    along = {"top": x, "right": y, "bottom": -x, "left": -y}[label.side]
    return SIDES.index(label.side), along, label.number
