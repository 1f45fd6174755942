"""Whether the sentences of a step have the order that its marks are counted in."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.flow.facts import Facts
from kilter.check.flow.machine import Machine, bits
from kilter.diagnostic import Diagnostic, Label, error
from kilter.model.text import Role

WHAT = {"wait": "the wait", "releases": "the release", "proves": "the proof", "removes": "the guard"}
"""What counts only after the source is cut off; within a step the marks count in this order, not as written."""


def order_findings(machine: Machine, facts: Facts) -> Iterator[Diagnostic]:
    """A wait, release, proof or open guard that is written before what has to come first."""
    roles = facts.step.roles
    for n, role in enumerate(roles):
        if role.name not in WHAT:
            continue
        late = next((r for r in roles[n + 1 :] if _comes_first(machine, r, role)), None)
        if late is not None:
            yield _finding(role, late)


def _comes_first(machine: Machine, first: Role, role: Role) -> bool:
    """Whether a role that is written later has to be done before."""
    off = machine.mask(n.text for n in first.names)
    if first.name == "releases":
        return role.name == "proves" and bool(off & machine.mask(n.text for n in role.names))
    if first.name != "isolates":
        return False
    if role.name == "removes":
        return bool(off)
    if role.name == "wait":
        draining = (e for e in machine.energies if e.bleed is not None)
        return any(off & (e.bit | e.above) for e in draining)
    acted = machine.mask(n.text for n in role.names)
    return any(off & (machine.energies[n].bit | machine.energies[n].above) for n in bits(acted))


def _finding(role: Role, late: Role) -> Diagnostic:
    done = "released" if late.name == "releases" else "cut off"
    return error(
        "written-too-early",
        f"{WHAT[role.name]} stands before `{late.text}` is {done} in the same step",
        role.span,
        "write it the other way round, best in a step each",
        why="Who does it as written waits, measures or reaches in while the energy is still there.",
        related=(Label(late.span, f"{done} only here"),),
    )
