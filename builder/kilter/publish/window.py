"""The window of a switch as pages and cards show it: in numbers, in words, and drawn."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from kilter.compute.rounding import at_least, inside
from kilter.compute.switch import Figures, FiguresMissingError, Window, figures, fit, window
from kilter.compute.units import UNITS, Unit
from kilter.compute.value import Quantity
from kilter.model.base import fold
from kilter.model.document import Stage, Step
from kilter.model.front import ProfileFront, Switch
from kilter.publish.drawings.ink import Picture
from kilter.publish.drawings.scales import window as drawn
from kilter.publish.values import other_words, quantity_of, read, unbroken

_FIGURES = ("op", "ot", "md", "ttp", "rp", "use", "window")
FROM_CLICK = "from click"
FITS = {
    "fits": "The setting lies inside the window.",
    "outside": "The setting lies outside the window.",
    "too wide": "The setting's tolerance reaches out of the window.",
    "window empty": "",
}
NONE_FITS = "No setting suits every switch of this type: set it from its own click."


@dataclass(frozen=True)
class WindowView:
    """A window that is shown."""

    title: str
    text: str
    """From where to where, and in the other system."""
    said: str
    """Whether the setting lies in it; empty where there is none."""
    picture: Picture | None


def step_windows(step: Step, stage: Stage, machine: ProfileFront) -> Iterator[WindowView]:
    """The window for each setting of a step that names a switch."""
    field = step.field("switch") or stage.field("switch")
    if field is None:
        return
    name, _, way = (part.strip() for part in field.value.partition(","))
    for written, switch in machine.switches.items():
        if fold(written) != fold(name):
            continue
        for role in step.roles:
            setting = quantity_of(role) if role.name == "set" else None
            if setting is not None and setting.dimension in ("length", "angle"):
                shown = window_view(written, switch, fold(way) == FROM_CLICK, setting)
                yield from [shown] if shown else []


def own_window(name: str, switch: Switch) -> WindowView | None:
    """The window of a switch by itself; from its click where no position suits every switch of the type."""
    position, clicked = window_view(name, switch, False, None), window_view(name, switch, True, None)
    return clicked if position is None or (position.picture is None and clicked) else position


def window_view(name: str, switch: Switch, clicked: bool, setting: Quantity | None) -> WindowView | None:
    """None where the figures do not suffice, or are of another dimension than the setting."""
    given = {k: q for k in _FIGURES if (text := getattr(switch, k)) and (q := read(text)) is not None}
    found = figures(given)
    try:
        allowed = window(found, clicked)
    except FiguresMissingError:
        return None
    unit = _unit(given, setting)
    if setting is not None and setting.dimension != unit.dimension:
        return None
    picture = drawn(_drawing(found, allowed, setting, unit))
    said = NONE_FITS if allowed.empty else FITS[fit(allowed, setting)] if setting is not None else ""
    title = f"Window of {name}" + (", counted from its own click" if clicked else "")
    return WindowView(title, _text(allowed, unit), said, picture)


def _unit(given: dict[str, Quantity], setting: Quantity | None) -> Unit:
    lengths = [given[k].unit for k in ("window", "op", "ot", "ttp") if k in given]
    if setting is not None and (not lengths or setting.dimension == lengths[0].dimension):
        return setting.unit
    return lengths[0] if lengths else UNITS["mm"]


def _text(allowed: Window, unit: Unit) -> str:
    low, high = unit.from_base(allowed.low), unit.from_base(allowed.high)
    if allowed.empty:
        return (
            f"none: its ends overlap by {at_least(low - high, 2)} {unit}"
            if low > high
            else "none: its ends meet"
        )
    text = f"{inside(low, high)} {unit}"
    other = other_words(text)
    return unbroken(f"{text} ({other})" if other else text)


def _drawing(found: Figures, allowed: Window, setting: Quantity | None, unit: Unit) -> dict[str, object]:
    def shown(value: Fraction | None) -> float | None:
        return None if value is None else float(unit.from_base(value))

    op = found.op
    end = found.ot if allowed.from_click else op[1] - found.ot if op and found.ot is not None else None
    aim = setting.base_nominal if setting is not None else None
    return {
        "unit": str(unit),
        "from_click": allowed.from_click,
        "low": shown(allowed.low),
        "high": shown(allowed.high),
        "set": shown(aim),
        "set_low": shown(setting.base_low) if setting is not None else None,
        "set_high": shown(setting.base_high) if setting is not None else None,
        "op_low": shown(op[0]) if op else None,
        "op_high": shown(op[1]) if op else None,
        "end": shown(end),
    }
