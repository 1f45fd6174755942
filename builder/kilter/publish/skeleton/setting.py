"""Which setting a new adjustment asks for: one that the first switch of the profile allows."""

from __future__ import annotations

from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import inside
from kilter.compute.switch import FiguresMissingError, figures, window
from kilter.model.front import ProfileFront, Switch

_KEYS = ("op", "ttp", "rp", "ot", "md", "window", "use")
_UNKNOWN = "8.0 ± 0.1 mm"


def switch_setting(profile: ProfileFront) -> tuple[str, str]:
    """The line that names the switch, empty for none, and an example of its setting.

    Where no position suits every switch of the type, it is set from its own click.
    """
    if not profile.switches:
        return "", _UNKNOWN
    name, switch = next(iter(profile.switches.items()))
    for field, from_click in ((name, False), (f"{name}, from click", True)):
        if example := _example(switch, from_click):
            return f":switch: {field}", example
    return f":switch: {name}", _UNKNOWN


def _example(switch: Switch, from_click: bool) -> str:
    """The whole window as a range, in the unit of the switch's figures; empty where there is none."""
    try:
        given = {key: parse_quantity(text) for key in _KEYS if (text := getattr(switch, key))}
        allowed = window(figures(given), from_click)
    except (QuantityError, FiguresMissingError):
        return ""
    unit = next((quantity.unit for key, quantity in given.items() if key != "use"), None)
    if allowed.empty or unit is None:
        return ""
    shown = inside(unit.from_base(allowed.low), unit.from_base(allowed.high))
    return f"{shown.replace(' to ', '–')} {unit}"
