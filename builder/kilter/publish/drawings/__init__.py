"""Drawings of values: small SVGs made of plain numbers. Pure: the same numbers give the same bytes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from kilter.publish.drawings import scales
from kilter.publish.drawings.bolts import bolts
from kilter.publish.drawings.discharge import discharge
from kilter.publish.drawings.ink import Picture

_KINDS: dict[str, Callable[[Mapping[str, Any]], Picture | None]] = {
    "window": scales.window,
    "limits": scales.limits,
    "preload": scales.preload,
    "stack": scales.stack,
    "flat": scales.flat,
    "discharge": discharge,
    "bolts": bolts,
}


def picture_of(drawing: Mapping[str, Any]) -> Picture | None:
    """The picture of a `Result.drawing`; None where there is nothing to draw."""
    draw = _KINDS.get(str(drawing.get("kind", "")))
    return draw(drawing) if draw is not None else None
