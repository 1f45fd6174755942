"""The words of the findings: what is wrong, and what could happen."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.check.flow.candidates import Candidate
from kilter.check.flow.fields import INSIDE, LIVE, OPEN, PROBE
from kilter.check.flow.globals import is_unmarked
from kilter.check.flow.machine import Machine
from kilter.check.flow.marks import M

RANK_WORDS = ("", "NOTICE", "CAUTION", "WARNING", "DANGER")

_ORDERS = (M.RELEASE_ORDER, M.RESTORE_ORDER)
GUARDS = (M.GUARD_OFF, M.RESTORE_GUARD, M.SERVICE_GUARD, M.FOUND_GUARD)

_BY_HANDS = {
    OPEN: (
        "a guard is undone while {names} {are} {state}",
        "What the guard holds back can reach who opens it.",
    ),
    PROBE: (
        "a tool or instrument goes in while {names} {are} {state}",
        "The energy can reach the hand that holds the instrument.",
    ),
    INSIDE: (
        "hands go inside while {names} {are} {state}",
        "It can shock, crush, burn or cut the hands inside.",
    ),
    LIVE: (
        "energised work while {names} {are} {state} and not named as live",
        "Nobody expects more to be live than what is named.",
    ),
}
_BY_CODE: dict[int, tuple[str, str]] = {
    M.AFTER: (
        "{names} {are} put back or loaded while hands are in reach",
        "It can shock, crush, burn or cut who still has hands there.",
    ),
    M.CAUTION: (
        "no {word} panel about {names} is in force in `{title}`",
        "Who reads the step is not warned.",
    ),
    M.DANGER: (
        "energised work on {names} without a {word} panel in force",
        "Who reads the step is not told how grave it is.",
    ),
    M.RUNS: ("`{title}` needs {names} on, but {they} {state}", "The step can't be done as it is written."),
    M.RELEASE: (
        "{names} {are} released while still live",
        "It fills again at once, or fights the hand that lets it out.",
    ),
    M.PROVE: (
        "{names} {are} proved while {state}",
        "The proof holds for a moment only; the energy is still there or comes back.",
    ),
    M.RELEASE_ORDER: (
        "{others} released before {names} {are} held",
        "Letting one out can set the other free.",
    ),
    M.RESTORE_ORDER: (
        "{others} put back before {names} {are} live again",
        "The machine asks for this order.",
    ),
    M.RESTORE_HOLD: (
        "{names} {are} put back, but no hold of ours is on",
        "It was never cut off on this way, or it is somebody else's lock.",
    ),
    M.SERVICE_HELD: (
        "back to service while {names} {are} still held",
        "It does not work, or the hold is forced.",
    ),
    M.FOUND_HELD: ("left as found while {names} {are} still held", "The machine is not as it was found."),
    M.TAGGED_NOT_HELD: ("left tagged while {names} {are} not held", "A tag alone does not stop anybody."),
    M.GUARD_OFF: (
        "{guards} {off} off, and nothing says why nobody reaches in",
        "What is behind it lies open.",
    ),
    M.GUARDS_ON: (
        "hands go inside in `{title}` with every guard on",
        "A step or a mark is missing or untrue.",
    ),
    M.RESTORE_GUARD: ("energy is put back while {guards} {off} off", "What it drives lies open."),
    M.SERVICE_GUARD: ("back to service while {guards} {off} off", "Patient or user can reach in."),
    M.FOUND_GUARD: ("left as found while {guards} {off} off", "The next user can reach in."),
    M.RESTORE_CLEAR: (
        "energy is put back before people and tools are clear",
        "Somebody may still have hands inside.",
    ),
    M.SERVICE_UNTESTED: ("back to service without a test of {missing}", "Nobody knows whether it works."),
    M.FOUND_TOUCHED: (
        "left as found although it was worked on",
        "The next user trusts a machine that nobody tested.",
    ),
}


def listed(names: Iterable[str]) -> str:
    """Names as people list them: `a`, `b` and `c`."""
    quoted = [f"`{n}`" for n in names]
    return " and ".join(filter(None, (", ".join(quoted[:-1]), *quoted[-1:])))


def words(found: Candidate, machine: Machine) -> tuple[str, str]:
    """The message and what could happen."""
    message, why = _template(found)
    many = len(found.sources) > 1
    guards = machine.guard_names(found.detail) if found.code in GUARDS else ()
    return message.format(
        names=listed(e.name for e in found.sources),
        are="are" if many else "is",
        they="they are" if many else "it is",
        title=found.facts.step.title,
        state=_state(found),
        word=RANK_WORDS[needed_rank(found)],
        others=listed(machine.names(found.detail)) if found.code in _ORDERS else "",
        guards=listed(guards),
        off="are" if len(guards) > 1 else "is",
        missing=listed(missing_tests(found, machine)) or "the function",
    ), why  # fmt: skip


_UNMARKED = (
    "`{title}` marks nothing, so hands count as inside, with every guard on",
    "Either a mark is missing, or nobody can get in there.",
)


def _template(found: Candidate) -> tuple[str, str]:
    if found.code == M.GUARDS_ON and is_unmarked(found.facts):
        return _UNMARKED
    return _BY_HANDS[found.facts.hands] if found.code == M.LEVEL else _BY_CODE[found.code]


def _state(found: Candidate) -> str:
    """The state in readers' words, for what has one."""
    if found.energy is None or found.code not in (M.LEVEL, M.AFTER, M.PROVE, M.RELEASE, M.RUNS):
        return ""
    return found.energy.word(found.detail).replace(", ", " but ")


def needed_rank(found: Candidate) -> int:
    """The rank of the panel that is missing."""
    ranks = [e.live_need if found.code == M.DANGER else e.need for e in found.sources]
    return max(ranks, default=0)


def missing_tests(found: Candidate, machine: Machine) -> list[str]:
    """Names of the tests that were not done; none where the profile names none."""
    if found.code != M.SERVICE_UNTESTED:
        return []
    return [t for n, t in enumerate(machine.front.before_service) if found.detail >> n & 1]
