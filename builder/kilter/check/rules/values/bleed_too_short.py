"""A capacitor that takes longer to drain than the profile says."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check import store
from kilter.check.rule import Context
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.rounding import about, at_least
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.model.front import EnergySource, ProfileFront

CODE = "K333"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    front = context.document.front
    for name, source in front.sources.items() if isinstance(front, ProfileFront) else ():
        stated, worked = _seconds(source), store.bleeds(source)
        if stated is not None and worked is not None and worked[0] > stated:
            least, volt = worked
            message = (
                f"`bleed: {source.bleed}` of `{name}` is too short: {_time(least)} until {about(volt)} V"
            )
            span = context.document.places.of("sources", name, "bleed")
            yield error("bleed-too-short", message, span, _HELP, why=_WHY)


_HELP = "write the longer time, or mend `capacitance`, `resistance` or `voltage`"
_WHY = "Whoever waits as long as is written reaches into a capacitor that is still charged."


def _seconds(source: EnergySource) -> float | None:
    try:
        quantity = parse_quantity(source.bleed) if source.bleed else None
    except QuantityError:
        return None
    if quantity is None or quantity.dimension != "time" or quantity.base_low is None:
        return None
    return float(quantity.base_low)


def _time(seconds: float) -> str:
    if seconds < 120:
        return f"{at_least(seconds, 2)} s"
    return f"{at_least(seconds / 60, 2)} min" if seconds < 7200 else f"{at_least(seconds / 3600, 2)} h"
