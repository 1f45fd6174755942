"""What each step does and exposes, worked out once, as small integers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from kilter.check.flow.fields import (
    AWAY,
    CONTROLS,
    INSIDE,
    LIVE,
    OPEN,
    PROBE,
    parse_exit,
    parse_hands,
)  # fmt: skip
from kilter.check.flow.machine import Machine
from kilter.check.flow.places import Exemption, Place, exemptions_of, panels_of, zone_of
from kilter.compute.duration import bounds
from kilter.model.base import fold
from kilter.model.document import Field, Step
from kilter.model.text import Panel, Role, walk

DEFAULT_HANDS = {
    "isolates": CONTROLS, "restores": CONTROLS, "runs-on": CONTROLS, "loads": CONTROLS,
    "releases": PROBE, "proves": PROBE, "removes": OPEN, "refits": OPEN,
    "wait": CONTROLS, "all-clear": CONTROLS, "tests": CONTROLS,
}  # fmt: skip
"""What a step exposes when it does not say; also which marks are effects."""

_UNSAFE = ("restores", "loads", "removes", "runs-on")
"""Effects that count even inside an answer; the others must be said where they are surely done."""


@dataclass(slots=True)
class Facts:
    """One step: what it exposes, does and says. A step that asks for a shared stage has two: before, after."""

    step: Step
    place: Place
    key: str
    hands: int = AWAY
    explicit: Field | None = None
    """The field that sets the hands: the step's own or its stage's."""
    reason: str = ""
    outside: bool = False
    """What it releases or proves can be reached from outside: counts as controls."""
    excused: bool = False
    """A guard may be off without a reason."""
    zone: int = 0
    clear: int = 0
    live: int = 0
    exemptions: tuple[Exemption, ...] = ()
    runs: int = 0
    isolates: int = 0
    releases: int = 0
    proves: int = 0
    restores: int = 0
    twice: int = 0
    """Sources that the step says it restores more than once."""
    loads: int = 0
    waits: tuple[tuple[int, int], ...] = ()
    """Shortest and longest seconds of each wait, in order."""
    removes: int = 0
    refits: int = 0
    tests: int = 0
    all_clear: bool = False
    kinds: frozenset[str] = frozenset()
    panels: tuple[tuple[int, Panel], ...] = ()
    exit: str | None = None
    calls: str | None = None
    roles: tuple[Role, ...] = ()
    after: bool = False
    """The half of a calling step that comes after the return."""

    @property
    def acts(self) -> int:
        """Sources that an effect names."""
        return self.handled | self.restores | self.loads | self.runs

    @property
    def handled(self) -> int:
        """Sources that are made safe here."""
        return self.isolates | self.releases | self.proves

    @property
    def exposes(self) -> bool:
        return self.hands >= OPEN

    def role(self, kinds: Iterable[str], name: str | None = None) -> Role | None:
        """The first mark of these kinds, of this name if one is given."""
        wanted = None if name is None else fold(name)
        for role in self.roles:
            if role.name in kinds and (wanted is None or any(n.key == wanted for n in role.names)):
                return role
        return None


def facts_of(machine: Machine, place: Place, step: Step, key: str) -> Facts:
    """One step's facts; those of a calling step are the half before the call."""
    facts = Facts(step, place, key)
    fields = {f.name: f for f in step.fields}
    if "do" not in fields:
        _effects(machine, facts)
    if fields:
        facts.exit = parse_exit(fields["exit"].value) if "exit" in fields else None
        facts.calls = fields["do"].value if "do" in fields else None
    if step.panels:
        facts.panels = panels_of(machine, step.panels)
    if facts.calls is not None:
        facts.excused = True
        return facts
    facts.zone = zone_of(machine, fields["zone"]) if "zone" in fields else place.zone
    own = exemptions_of(machine, step.fields) if "clear-of" in fields else ()
    facts.exemptions = own if "clear-of" in fields else place.clear
    for each in facts.exemptions:
        facts.clear |= each.mask
    facts.clear &= ~facts.acts
    facts.excused = "exit" in fields or (bool(facts.kinds) and facts.kinds <= {"wait", "all-clear"})
    _hands(machine, facts, fields.get("hands"), "exit" in fields)
    return facts


def after_of(before: Facts) -> Facts:
    """The half of a calling step that comes after the return: only its exit counts."""
    after = Facts(before.step, before.place, before.key, after=True, excused=True)
    after.exit, before.exit = before.exit, None
    return after


def _effects(machine: Machine, facts: Facts) -> None:
    roles = [r for r in facts.step.roles if r.name in DEFAULT_HANDS]
    if not roles:
        return
    doubtful = {r.span for a in facts.step.answers for r in walk(a.seen) if isinstance(r, Role)}
    if doubtful:
        roles = [r for r in roles if r.span not in doubtful or r.name in _UNSAFE]
    facts.roles = tuple(roles)
    facts.kinds = frozenset(r.name for r in roles)
    for role in roles:
        _effect(machine, facts, role)


def _effect(machine: Machine, facts: Facts, role: Role) -> None:
    match role.name:
        case "wait":
            found = bounds(role.text)
            facts.waits += (found,) if found else ()
        case "all-clear":
            facts.all_clear = True
        case "tests":
            facts.tests |= _those(machine.tests, role) if machine.tests else 1
        case "removes":
            facts.removes |= _those(machine.guards, role)
        case "refits":
            facts.refits |= _those(machine.guards, role)
        case _:
            mask = machine.mask(n.text for n in role.names)
            slot = {"runs-on": "runs"}.get(role.name, role.name)
            if slot == "restores":
                facts.twice |= _repeated(machine, facts.restores, role)
            setattr(facts, slot, getattr(facts, slot) | mask)


def _repeated(machine: Machine, before: int, role: Role) -> int:
    """Sources of a mark that stand in an earlier one too, or twice in it."""
    found = 0
    for name in role.names:
        bit = machine.mask((name.text,))
        found, before = found | before & bit, before | bit
    return found


def _those(known: dict[str, int], role: Role) -> int:
    return sum({1 << known[n.key] for n in role.names if n.key in known})


def _hands(machine: Machine, facts: Facts, own: Field | None, leaves: bool) -> None:
    """The step's own word, else its stage's, else what its effects say."""
    parsed = parse_hands(own.value) if own else facts.place.hands
    if parsed is not None:
        facts.explicit = own or facts.place.hands_field
        facts.hands, facts.reason = parsed.level, parsed.reason
        facts.live = machine.mask(parsed.names) if parsed.level == LIVE else 0
    elif facts.kinds:
        facts.hands = max(DEFAULT_HANDS[k] for k in facts.kinds)
    else:
        facts.hands = CONTROLS if leaves else INSIDE
    if facts.hands == PROBE and only_outside(machine, facts):
        facts.outside, facts.hands = True, CONTROLS


def only_outside(machine: Machine, facts: Facts) -> bool:
    """Whether all that the step releases or proves is outside, and nothing else takes it further in."""
    return (
        bool(facts.kinds & {"releases", "proves"})
        and not facts.kinds & {"removes", "refits"}
        and not facts.releases & ~machine.outside_release
        and not facts.proves & ~machine.outside_prove
    )
