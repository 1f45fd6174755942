"""Tag and placard of a machine."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from kilter.model.front import EnergySource
from kilter.publish.cards.heads import Data, machine_head
from kilter.publish.cards.inline import printable
from kilter.publish.machine import MachineView
from kilter.publish.values import unbroken
from kilter.publish.view import EnergyRow

LEGEND = ("Do not start", "Do not open", "Do not close", "Do not energize")
"""29 CFR 1910.147(c)(5)(iii) gives these and "Do not operate" as legends of a tag; from memory, compare before quoting."""
KINDS = {
    "mains": "Mains", "battery": "Battery", "capacitor": "Stored charge", "hydraulic": "Oil under pressure",
    "pneumatic": "Air under pressure", "vacuum": "Vacuum", "gravity": "Raised weight", "spring": "Spring",
    "heat": "Heat", "motion": "Moving part", "pressure": "Pressure", "other": "Other energy",
}  # fmt: skip


class SourceData(TypedDict):
    """One source of a machine."""

    name: str
    word: str
    kind: str
    amount: str
    """How much, as far as the profile says."""
    lines: list[list[str]]
    """What is done, and how."""
    notes: list[str]
    lockable: bool
    releases: bool


def has_lock(machine: MachineView) -> bool:
    return any(s.lockable for s in machine.front.sources.values())


def has_sources(machine: MachineView) -> bool:
    return bool(machine.front.sources)


def tag_data(machine: MachineView, width: int, height: int) -> Data:
    """The insert beside the lock."""
    return {**_data(machine, width, height, "Lockout tag"), "legend": LEGEND}


def placard_data(machine: MachineView, width: int, height: int) -> Data:
    """The energies, for the wall at the machine."""
    return _data(machine, width, height, "Energy placard")


def _data(machine: MachineView, width: int, height: int, card: str) -> Data:
    return {
        **machine_head(machine, width, height, card),
        "contact": printable(machine.contact),
        "guards": [printable(g) for g in machine.front.guards],
        "none": printable(", ".join(machine.front.none)),
        "tests": printable(", ".join(machine.front.before_service)),
        "sources": [_source(row) for row in machine.energy],
    }


def _source(row: EnergyRow) -> SourceData:
    source = row.source
    lines = [["Isolate", row.isolate], ["Release", row.release], ["Prove", row.prove]]
    return {
        "name": printable(row.name),
        "word": source.word.upper(),
        "kind": printable(source.why or KINDS[source.kind]),
        "amount": printable(unbroken(_amount(source))),
        "lines": [[name, printable(unbroken(text))] for name, text in lines],
        "notes": [printable(unbroken(note)) for note in _notes(row)],
        "lockable": source.lockable,
        "releases": source.needs_release,
    }


def _amount(source: EnergySource) -> str:
    """Voltage, capacitance, chemistry and charge stand in a profile; of other energies it holds no amount."""
    found = [
        source.chemistry,
        source.capacity,
        source.voltage and f"up to {source.voltage}",
        source.capacitance,
    ]
    return ", ".join(filter(None, found))


def _notes(row: EnergyRow) -> Iterator[str]:
    """What would be overlooked: what charges it, what has to come first, whether it comes back."""
    source = row.source
    if source.charged_by:
        yield f"Charged by {' and '.join(source.charged_by)}: cut that too."
    if source.loaded_by:
        yield f"Loaded again when you {' or '.join(source.loaded_by)}."
    if source.needs.releases:
        yield f"Release only while {' and '.join(source.needs.releases)} is held."
    if source.needs.restores:
        yield f"Give back only after {' and '.join(source.needs.restores)}."
    if source.reaccumulates:
        again = "" if source.reaccumulates is True else f" after {source.reaccumulates}"
        yield f"Can build up again{again}: prove again."
