"""What a profile says of its batteries and capacitors, worked out."""

from __future__ import annotations

from kilter.check.limits import limits_in
from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.value import Quantity
from kilter.diagnostic import did_you_mean
from kilter.model.front import EnergySource

KEYS = {"battery": ("chemistry", "capacity", "load"), "capacitor": ("capacitance", "resistance", "voltage")}
"""Which kind of source each key belongs to."""
DIMENSIONS = {
    "capacity": ("charge", "12 Ah"),
    "capacitance": ("capacitance", "470 µF ± 20 %"),
    "resistance": ("resistance", "10 kΩ ± 5 %"),
    "voltage": ("voltage", "400 V"),
}


def texts(source: EnergySource, key: str) -> tuple[str, ...]:
    """What a key says; nothing where it is not given."""
    said = getattr(source, key)
    return (said,) if isinstance(said, str) else tuple(said or ())


def trouble(key: str, text: str, source: EnergySource) -> InputError | None:
    """Why a chemistry or a part of the day can't be read; None where it can."""
    from kilter.compute.calculators.battery import CHEMISTRIES

    if key == "chemistry":
        known = any(text.casefold() == c.casefold() for c in CHEMISTRIES)
        help = did_you_mean(text, CHEMISTRIES)
        return None if known else InputError(key, f"no battery of `{text[:40]}` is known", help)
    if ":" not in text or "," not in text:
        help = 'write each part in quotes: `load: ["standby: 0.08 A, 22 h"]`'
        return InputError(key, f"`{text[:40]}` is no part of a day", help)
    given = {"chemistry": [CHEMISTRIES[0]], "capacity": ["1 Ah"], "use": [text]}
    return _fails(given)


def day_trouble(source: EnergySource) -> InputError | None:
    """Why the parts of a day, each readable, make no day."""
    if len(source.load) < 2 or any(trouble("load", part, source) for part in source.load):
        return None
    from kilter.compute.calculators.battery import CHEMISTRIES

    return _fails({"chemistry": [CHEMISTRIES[0]], "capacity": ["1 Ah"], "use": list(source.load)})


def _fails(given: dict[str, list[str]]) -> InputError | None:
    battery = calculator("battery")
    try:
        battery.work(read_inputs(battery.inputs, given))
    except InputError as error:
        return error
    return None


def bleeds(source: EnergySource) -> tuple[float, float] | None:
    """Seconds that a capacitor takes in the worst case, and the voltage it is then at; None where facts are missing.

    Until it may be touched, or until its proof passes, whichever is lower.
    """
    ends = [_high(t) for t in (source.capacitance, source.resistance, source.voltage)]
    if source.kind != "capacitor" or None in ends:
        return None
    from kilter.compute.calculators.bleed import TOUCH
    from kilter.compute.stored_energy import bleed_time

    limits = (limit.high for limit in limits_in(source.prove or "") if limit.dimension == "voltage")
    least = min([TOUCH, *(float(high) for high in limits if high is not None and high > 0)])
    capacitance, resistance, voltage = (float(end) for end in ends if end is not None)
    return bleed_time(capacitance, resistance, voltage, least), least


def _high(text: str | None) -> float | None:
    quantity = _quantity(text)
    if quantity is None or quantity.base_high is None or quantity.base_high <= 0:
        return None
    return float(quantity.base_high)


def _quantity(text: str | None) -> Quantity | None:
    try:
        return parse_quantity(text) if text else None
    except QuantityError:
        return None
