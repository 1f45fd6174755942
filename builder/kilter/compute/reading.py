"""A reading as it is marked: an optional phase and name, then the limit that it is judged by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from kilter.compute.quantity import Quantity, QuantityError, parse_quantity

Phase = Literal["as found", "as left"]


@dataclass(frozen=True, slots=True)
class Reading:
    """`as found, lid travel: 7.6–8.2 mm` taken apart."""

    phase: Phase | None
    name: str
    """Empty where the reading has none."""
    quantity: Quantity


def split_reading(text: str) -> tuple[Phase | None, str, int]:
    """Phase, name, and the offset at which the value begins. A name may hold commas and colons."""
    colon = text.rfind(":")
    if colon < 0:
        return None, "", 0
    label = " ".join(text[:colon].split())
    first, _, rest = label.partition(",")
    said = first.strip().casefold().replace("-", " ")
    if said == "as found":
        return "as found", rest.strip(), colon + 1
    if said == "as left":
        return "as left", rest.strip(), colon + 1
    return None, label, colon + 1


def parse_reading(text: str) -> Reading:
    """The reading that a text states; raises QuantityError with offsets in the whole text."""
    phase, name, start = split_reading(text)
    try:
        return Reading(phase, name, parse_quantity(text[start:]))
    except QuantityError as refused:
        raise refused.moved(start) from None
