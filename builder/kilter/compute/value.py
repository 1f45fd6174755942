"""What a value is, once it has been read."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from kilter.compute.units import Unit

Form = Literal["plain", "plus-minus", "percent", "uneven", "range", "at-least", "at-most", "above", "below"]


def alike(one: Unit, two: Unit) -> bool:
    """Whether one may stand for the other: a voltage said to be a.c. never for one said to be d.c."""
    kinds = {unit.symbol[-4:] for unit in (one, two)}
    return not kinds >= {"a.c.", "d.c."}


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value that was read; `low` and `high` are in `unit`, None where there is no such limit."""

    text: str
    form: Form
    """How it was written."""
    unit: Unit
    nominal: Decimal | None
    """What is aimed at; None for a range or a limit."""
    low: Decimal | None
    high: Decimal | None
    numbers: tuple[str, ...]
    """As written, signs made plain: their digits say how exact they are meant."""

    @property
    def dimension(self) -> str:
        return self.unit.dimension

    @property
    def base_low(self) -> Fraction | None:
        """The lower limit in the base unit of the dimension, exactly."""
        return None if self.low is None else self.unit.to_base(self.low)

    @property
    def base_high(self) -> Fraction | None:
        """The upper limit in the base unit of the dimension, exactly."""
        return None if self.high is None else self.unit.to_base(self.high)

    @property
    def base_nominal(self) -> Fraction | None:
        """The nominal in the base unit of the dimension, exactly."""
        return None if self.nominal is None else self.unit.to_base(self.nominal)

    @property
    def has_limit(self) -> bool:
        """Whether a reading can be judged by it."""
        return self.form != "plain"

    @property
    def has_tolerance(self) -> bool:
        """Whether it is limited on both sides."""
        return self.form in ("plus-minus", "percent", "uneven", "range")

    def within(self, other: Quantity) -> bool:
        """Whether whatever meets this meets the other; never across dimensions, or from a.c. to d.c."""
        low, high, olow, ohigh = self.base_low, self.base_high, other.base_low, other.base_high
        above = olow is None or (low is not None and low >= olow)
        below = ohigh is None or (high is not None and high <= ohigh)
        return self.dimension == other.dimension and alike(self.unit, other.unit) and above and below

    def same_limits(self, other: Quantity) -> bool:
        """Whether both allow the same values, in whatever units they are written."""
        return self.within(other) and other.within(self)
