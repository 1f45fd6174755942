"""Exemptions that nothing needs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kilter.check.flow.facts import Facts
from kilter.check.flow.machine import Machine, bits
from kilter.check.flow.places import Exemption
from kilter.diagnostic import Diagnostic, error

Findings = Iterator[Diagnostic]


def exempt_findings(
    machine: Machine, facts: Iterable[Facts], needed: set[tuple[int, int]], numbers: dict[int, int]
) -> Findings:
    """Exemptions that nothing needs. `needed` holds (facts, source); `numbers` the place of each facts."""
    used: dict[int, int] = {}
    by_facts: dict[int, int] = {}
    for at, source in needed:
        by_facts[at] = by_facts.get(at, 0) | 1 << source
    every: dict[int, tuple[Exemption, Facts]] = {}
    for each in facts:
        at = numbers[id(each)]
        for exemption in _exemptions(each):
            key = id(exemption.field)
            every.setdefault(key, (exemption, each))
            used[key] = used.get(key, 0) | _used(exemption, each, by_facts.get(at, 0))
    for key, (exemption, each) in every.items():
        for n in bits(exemption.mask & ~used[key]):
            yield _unneeded(machine.energies[n].name, exemption, each)


def _used(exemption: Exemption, facts: Facts, needed: int) -> int:
    """Sources that need the exemption in this step, or for which another rule speaks."""
    if exemption.field.name == "hands":
        return exemption.mask & needed & ~facts.clear
    own = any(f is exemption.field for f in facts.step.fields)
    return exemption.mask & (needed & facts.clear | (facts.acts if own else 0))


def _exemptions(facts: Facts) -> list[Exemption]:
    found = list(facts.exemptions)
    if facts.live and facts.explicit is not None:
        found.append(Exemption(facts.live, (), facts.reason, facts.explicit))
    return found


def _unneeded(name: str, exemption: Exemption, facts: Facts) -> Diagnostic:
    what = "stays live" if exemption.field.name == "hands" else "is out of reach"
    where = (
        "no step of the stage" if not any(f is exemption.field for f in facts.step.fields) else "no way in"
    )
    help = f"take `{name}` out of `:{exemption.field.name}:`"
    message = f"`{name}` needs no reason why it {what}: {where} asks for one"
    return error("unneeded-exemption", message, exemption.field.value_span, help)
