"""A battery or a capacitor of which the profile says too little to work anything out."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check import store
from kilter.check.lookup import source_key
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, hint
from kilter.model.front import EnergySource, ProfileFront

CODE = "K334"
SEVERITY = Severity.ERROR

_ASKED = {
    "chemistry": "such as lead-acid AGM or lithium-ion",
    "capacity": "its rated charge, such as 12 Ah",
    "load": "a part of the machine's day, such as standby: 0.08 A, 22 h",
    "capacitance": "with its tolerance, such as 470 µF ± 20 %",
    "resistance": "of the resistor that drains it, such as 10 kΩ ± 5 %",
    "voltage": "the highest it can be charged to, such as 400 V",
}
_WHAT = {
    "battery": "how soon it is flat when its charger stops",
    "capacitor": "whether `bleed` is long enough",
}


def check(context: Context) -> Iterator[Diagnostic]:
    front = context.document.front
    for name, source in front.sources.items() if isinstance(front, ProfileFront) else ():
        if source.kind in store.KEYS:
            yield from _missing(context, name, source)
        day = store.day_trouble(source)
        if day is not None:
            span = context.document.places.of("sources", name, "load")
            yield error("store-facts", f"`load` of `{name}`: {day.message}", span, day.help)


def _missing(context: Context, name: str, source: EnergySource) -> Iterator[Diagnostic]:
    keys = store.KEYS[source.kind]
    given = [key for key in keys if store.texts(source, key)]
    missing = [key for key in keys if key not in given]
    if not missing or not given or given == ["chemistry"]:
        return
    names = " and ".join(f"`{key}`" for key in missing)
    message = f"`{given[0]}` of `{name}` without {names}: not known {_WHAT[source.kind]}"
    help = "; ".join(f"`{key}`: {_ASKED[key]}" for key in missing)
    cure = source_key(context, name, given[-1], missing[0], _ASKED[missing[0]]) if len(missing) == 1 else ()
    yield hint(
        "store-facts", message, context.document.places.key("sources", name, given[0]), help, fixes=cure
    )
