"""What the tools named in a step can do, as they are declared in the document or its profile."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from kilter.check.rule import Context
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.value import Quantity
from kilter.model.base import fold
from kilter.model.document import Step
from kilter.model.front import Tool

_SIGN = re.compile(r"^\s*(?:±|\+/-)\s*")
_CONDITION = re.compile(r"\s+(?:at|per)\b.*$")
"""Under which condition a range holds: `0.1–200 MΩ at 250 V`."""
_OF_VALUE = re.compile(r"\s+of\s+(?:the\s+)?(?:reading|value|setting)\s*$", re.I)


@dataclass(frozen=True, slots=True)
class Declared:
    """A tool with its range and accuracy, as far as they can be read."""

    name: str
    low: Fraction | None
    """The least it shows, in base units; None where only a maximum is given."""
    high: Fraction | None
    dimension: str
    """Of what it measures; empty where that can't be told."""
    share: Fraction | None
    """How far off it may be, as a share of the value."""
    off: Fraction | None
    """How far off it may be, in base units."""
    range: str
    accuracy: str


def tools_in(context: Context, step: Step) -> Iterator[Declared]:
    """The declared tools that a step names, each once; those of the document come before the profile's."""
    fronts = [context.document.front, *([context.equipment] if context.equipment else [])]
    known = {fold(t.name): t for front in reversed(fronts) for t in front.tools}
    named = dict.fromkeys(n.key for role in step.roles if role.name == "tool" for n in role.names)
    yield from (declared(known[key]) for key in named if key in known)


def declared(tool: Tool) -> Declared:
    """What a tool's entry says in numbers."""
    reach, exact = (
        _quantity(_CONDITION.sub("", tool.range or "")),
        _quantity(_SIGN.sub("", _OF_VALUE.sub("", tool.accuracy or ""))),
    )
    share = exact.base_nominal if exact and exact.dimension == "ratio" and exact.form == "plain" else None
    off = None
    if exact and exact.dimension != "ratio" and exact.form == "plain" and exact.nominal is not None:
        off = Fraction(exact.nominal) * exact.unit.factor  # a difference: of a temperature no offset counts
    dimension = reach.dimension if reach else exact.dimension if exact and off is not None else ""
    if reach is not None and exact is not None and off is not None and exact.dimension != reach.dimension:
        off = None
    low = reach.base_low if reach is not None and reach.form != "plain" else None
    high = reach.base_high if reach is not None else None
    return Declared(tool.name, low, high, dimension, share, off, tool.range or "", tool.accuracy or "")


def _quantity(text: str | None) -> Quantity | None:
    """What a text says; what has further conditions, such as "1 % of full scale", is no plain value."""
    try:
        return parse_quantity(text) if text else None
    except QuantityError:
        return None
