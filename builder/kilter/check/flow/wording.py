"""Whether the sentences of a step have the order that its marks are counted in."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.flow.facts import Facts
from kilter.check.flow.machine import Machine, bits
from kilter.diagnostic import Diagnostic, Label, error
from kilter.model.text import Role

EARLY = ("wait", "releases", "proves")
"""What counts only after the source is cut off; within a step the marks count in this order, not as written."""


def order_findings(machine: Machine, facts: Facts) -> Iterator[Diagnostic]:
    """A wait, release or proof that is written before the isolation that it counts after."""
    roles = facts.step.roles
    cuts = [(n, role) for n, role in enumerate(roles) if role.name == "isolates"]
    for n, role in enumerate(roles):
        if role.name not in EARLY:
            continue
        late = next((cut for at, cut in cuts if at > n and _leans_on(machine, role, cut)), None)
        if late is not None:
            yield _finding(role, late)


def _leans_on(machine: Machine, role: Role, cut: Role) -> bool:
    """Whether what the role does counts only once the other one has cut a source off."""
    off = machine.mask(n.text for n in cut.names)
    if role.name == "wait":
        draining = (e for e in machine.energies if e.bleed is not None)
        return any(off & (e.bit | e.above) for e in draining)
    acted = machine.mask(n.text for n in role.names)
    return any(off & (machine.energies[n].bit | machine.energies[n].above) for n in bits(acted))


def _finding(role: Role, late: Role) -> Diagnostic:
    what = {"wait": "the wait", "releases": "the release", "proves": "the proof"}[role.name]
    return error(
        "written-too-early",
        f"{what} stands before `{late.text}` is cut off in the same step",
        role.span,
        "write the isolation first, best in a step of its own",
        why="Who does it as written waits, releases or measures while the source is still live.",
        related=(Label(late.span, "cut off only here"),),
    )
