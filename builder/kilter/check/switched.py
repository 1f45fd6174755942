"""The settings of a document with the switch that each is for, and the window that the switch leaves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from kilter.check.marked import Marked, readable
from kilter.check.once import once
from kilter.check.rule import Context
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import inside
from kilter.compute.switch import Figures, FiguresMissingError, Window, figures, window
from kilter.compute.value import Quantity
from kilter.model.base import fold
from kilter.model.document import Field
from kilter.model.front import Switch
from kilter.read.fields import names_of

FROM_CLICK = "from click"
TRAVEL = ("length", "angle")
_KEYS = ("op", "ttp", "rp", "ot", "md", "window", "use")


@dataclass(frozen=True, slots=True)
class Switched:
    """One setting in a step with `:switch:`."""

    marked: Marked
    setting: Quantity
    field: Field
    name: str
    """As the profile writes it."""
    figures: Figures
    dimension: str
    """Of the figures; empty where there are none."""
    from_click: bool

    @property
    def window(self) -> Window | None:
        """What it may be; None where figures are missing, or it is no travel of the switch."""
        if self.setting.dimension != self.dimension:
            return None
        try:
            return window(self.figures, self.from_click)
        except FiguresMissingError:
            return None

    def shown(self, allowed: Window) -> str:
        """The window in the setting's unit, never wider than it is."""
        unit = self.setting.unit
        text = f"{inside(unit.from_base(allowed.low), unit.from_base(allowed.high))} {unit}"
        return f"{text} past the click" if allowed.from_click else text


@once(most=4)
def switched(context: Context) -> tuple[Switched, ...]:
    """Every setting of a switch that the profile knows with figures that can be read."""
    return tuple(_all(context))


def _all(context: Context) -> Iterator[Switched]:
    for marked, setting in readable(context, "set"):
        field = marked.step.field("switch")
        found = known(context, field)
        if field is None or found is None:
            continue
        name, switch = found
        given = _read(switch)
        if given is not None:
            dimension = next((q.dimension for k, q in given.items() if k != "use"), "")
            yield Switched(marked, setting, field, name, figures(given), dimension, clicks(field))


def known(context: Context, field: Field | None) -> tuple[str, Switch] | None:
    """The profile's entry of the switch that a field names."""
    names = names_of(field) if field is not None else ()
    if not names or context.equipment is None:
        return None
    return next(((n, s) for n, s in context.equipment.switches.items() if fold(n) == names[0].key), None)


def clicks(field: Field) -> bool:
    """Whether the travel is counted from the switch's own click."""
    return any(" ".join(name.key.split()) == FROM_CLICK for name in names_of(field)[1:])


def _read(switch: Switch) -> dict[str, Quantity] | None:
    """The figures that are given; None where one can't be read, which the profile is told of."""
    try:
        given = {key: parse_quantity(text) for key in _KEYS if (text := getattr(switch, key)) is not None}
    except QuantityError:
        return None
    right = all(q.dimension == "ratio" if key == "use" else q.dimension in TRAVEL for key, q in given.items())
    alike = len({q.dimension for key, q in given.items() if key != "use"}) <= 1
    return given if right and alike else None
