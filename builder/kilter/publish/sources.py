"""What the figures of an energy source come to: days until a battery is flat, how long a capacitor drains."""

from __future__ import annotations

from dataclasses import replace

from kilter.compute.calculation import InputError, calculator, read_inputs
from kilter.model.front import EnergySource
from kilter.model.text import Calculation, Given
from kilter.publish.worked import Worked, worked
from kilter.source import Span

_NOWHERE = Span("", 1, 1, 1, 1)
TITLES = {
    "battery": "Days until flat, if charging has stopped",
    "bleed": "Time to drain, worked out from the parts",
}


def source_answer(source: EnergySource) -> Worked | None:
    """None where the profile does not give the figures, or they can't be worked with: the check says so."""
    name, given = _inputs(source)
    if not name:
        return None
    texts: dict[str, list[str]] = {}
    for key, value in given:
        texts.setdefault(key, []).append(value)
    found = calculator(name)
    try:
        result = found.work(read_inputs(found.inputs, texts))
    except (InputError, OverflowError, ZeroDivisionError):
        return None
    shown = worked(
        Calculation(name=name, given=_given(given), caption=(), span=_NOWHERE, name_span=_NOWHERE), result
    )
    return replace(shown, title=TITLES[name])


def _inputs(source: EnergySource) -> tuple[str, list[tuple[str, str]]]:
    if source.kind == "battery" and source.chemistry and source.capacity and source.load:
        pairs = [("chemistry", source.chemistry), ("capacity", source.capacity)]
        return "battery", pairs + [("use", each) for each in source.load]
    if source.kind == "capacitor" and source.capacitance and source.resistance and source.voltage:
        pairs = [
            ("capacitance", source.capacitance),
            ("resistance", source.resistance),
            ("from", source.voltage),
        ]
        return "bleed", pairs + ([("wait", source.bleed)] if source.bleed else [])
    return "", []


def _given(pairs: list[tuple[str, str]]) -> tuple[Given, ...]:
    return tuple(
        Given(name=n, value=v, span=_NOWHERE, name_span=_NOWHERE, value_span=_NOWHERE) for n, v in pairs
    )
