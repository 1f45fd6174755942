"""Candidates as findings: what is wrong, where, how one gets there, and what to write."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.check.flow.advice import advice
from kilter.check.flow.candidates import Candidate
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import INSIDE, LIVE, OPEN, PROBE
from kilter.check.flow.machine import Machine
from kilter.check.flow.marks import M
from kilter.check.flow.rules import RULES
from kilter.check.flow.ways import hops
from kilter.diagnostic import Diagnostic, Label
from kilter.source import Span

RULE_OF = {
    M.AFTER: "hands-in-restored", M.CAUTION: "missing-caution", M.DANGER: "live-without-danger",
    M.RUNS: "runs-while-isolated", M.RELEASE: "release-before-isolated", M.PROVE: "prove-before-released",
    M.RELEASE_ORDER: "release-order", M.RESTORE_ORDER: "restore-order", M.RESTORE_HOLD: "restore-without-hold",
    M.SERVICE_HELD: "service-still-held", M.FOUND_HELD: "left-held", M.TAGGED_NOT_HELD: "tagged-not-held",
    M.GUARD_OFF: "guard-off-no-reason", M.GUARDS_ON: "guards-still-on", M.RESTORE_GUARD: "restore-guard-off",
    M.SERVICE_GUARD: "service-guard-off", M.FOUND_GUARD: "left-guard-off", M.RESTORE_CLEAR: "restore-people-near",
    M.SERVICE_UNTESTED: "service-untested", M.FOUND_TOUCHED: "left-touched",
}  # fmt: skip
BY_HANDS = {
    OPEN: "open-before-released", PROBE: "probe-before-released",
    INSIDE: "inside-before-proved", LIVE: "live-before-proved",
}  # fmt: skip

_ROLES: dict[int, tuple[str, ...]] = {
    M.RUNS: ("runs-on",), M.RELEASE: ("releases",), M.PROVE: ("proves",), M.RELEASE_ORDER: ("releases",),
    M.RESTORE_ORDER: ("restores",), M.RESTORE_HOLD: ("restores",), M.RESTORE_GUARD: ("restores",),
    M.RESTORE_CLEAR: ("restores",), M.AFTER: ("restores", "loads"),
}  # fmt: skip
_BY_HANDS_ROLES = {OPEN: ("removes", "refits"), PROBE: ("proves", "releases")}


def rule_of(found: Candidate) -> str:
    return BY_HANDS[found.facts.hands] if found.code == M.LEVEL else RULE_OF[M(found.code)]


def finding(found: Candidate, machine: Machine) -> Diagnostic:
    """The finding for one candidate."""
    rule = rule_of(found)
    message, why = _words(found, machine)
    origin = frozenset() if found.origin is None else frozenset((found.origin,))
    return Diagnostic(
        rule=rule,
        severity=RULES[rule],
        message=message,
        span=_span(found),
        help=advice(found, machine),
        why=why,
        related=tuple(_related(found, machine)),
        way=hops(found.run, found.way, origin),
    )


def listed(names: Iterable[str]) -> str:
    """Names as people list them: `a`, `b` and `c`."""
    quoted = [f"`{n}`" for n in names]
    return quoted[0] if len(quoted) == 1 else ", ".join(quoted[:-1]) + f" and {quoted[-1]}"


def _span(found: Candidate) -> Span:
    """The mark that asks, else the exit, else the heading."""
    facts = found.facts
    kinds = _ROLES.get(found.code, ())
    if found.code in (M.LEVEL, M.CAUTION, M.DANGER):
        kinds = _BY_HANDS_ROLES.get(facts.hands, ())
    first = found.sources[0].name if found.sources else None
    role = facts.role(kinds, first) or facts.role(kinds)
    if role is not None:
        named = next((n.span for n in role.names if first and n.key == first.casefold()), None)
        return named if named and len(role.names) > 1 else role.span
    field = facts.step.field("exit")
    return field.value_span if facts.exit and field else facts.step.heading_span


_STATES = ("live", "isolated but still charged", "", "proved zero")


def _state(found: Candidate) -> str:
    energy = found.energy
    assert energy is not None
    return energy.word(found.detail) if found.detail != 1 else _STATES[1]


def _words(found: Candidate, machine: Machine) -> tuple[str, str]:
    """The message and what could happen."""
    names = listed(e.name for e in found.sources) if found.sources else ""
    are, they = ("are", "they are") if len(found.sources) > 1 else ("is", "it is")
    code, title = found.code, found.facts.step.title
    if code == M.LEVEL:
        what = _HANDS_WORDS[found.facts.hands]
        return f"{what} while {names} {are} {_state(found)}", _HARM[found.facts.hands]
    if code == M.AFTER:
        return (
            f"{names} {are} made live while hands are in reach",
            "It moves, shocks or burns who still has hands in it.",
        )
    if code in (M.CAUTION, M.DANGER):
        least = {4: "DANGER", 3: "WARNING", 2: "CAUTION", 1: "NOTICE"}
        need = max(e.live_need if code == M.DANGER else e.need for e in found.sources)
word = f"a {least[need]} panel"
        return (
            f"no {least[need]} panel about {names} is in force in `{title}`",
            f"Who reads the step is not told; {word} says it.",
        )
    if code in _SIMPLE:
        message, why = _SIMPLE[code]
        tests = machine.front.before_service
        missing = (
            listed(tests[n] for n in range(len(tests)) if found.detail >> n & 1) if tests else "the function"
        )
        guards = machine.guard_names(found.detail)
        return (
            message.format(
                names=names, are=are, they=they, title=title, state=_state(found) if _levels(code) else "",
                others=listed(machine.names(found.detail)) if code in _ORDERS else "",
                missing=missing, guards=listed(guards) if guards else "a guard",
                off="are" if len(guards) > 1 else "is",
            ),
            why,
        )  # fmt: skip
    raise AssertionError(code)


def _levels(code: int) -> bool:
    return code in (M.RELEASE, M.PROVE, M.RUNS)


_ORDERS = (M.RELEASE_ORDER, M.RESTORE_ORDER)
_HANDS_WORDS = {
    OPEN: "a guard is undone",
    PROBE: "an instrument or tool goes in",
    INSIDE: "hands go inside",
    LIVE: "energised work is done",
}
_HARM = {
    OPEN: "What the guard holds back can reach who opens it.",
    PROBE: "The energy can reach the hand that holds the instrument.",
    INSIDE: "It can shock, crush, burn or cut the hands inside.",
    LIVE: "Nobody expects it to be live besides what is named.",
}
_SIMPLE: dict[int, tuple[str, str]] = {
    M.RUNS: ("the step needs {names} on, but {they} {state}", "The step can't be done as it is written."),
    M.RELEASE: ("{names} {are} released while still live", "It fills again at once, or fights the hand that lets it out."),
    M.PROVE: ("{names} {are} proved while {state}", "The proof holds for a moment only; the energy can come back."),
    M.RELEASE_ORDER: ("{others} {are_others} released before {names} {are} held", "Letting it out sets the other one free."),
    M.RESTORE_ORDER: ("{others} put back before {names} {are} live again", "The profile asks for this order."),
    M.RESTORE_HOLD: ("{names} {are} put back, but no hold of ours is on", "It may be somebody else's lock, or it was never cut off."),
    M.SERVICE_HELD: ("back to service while {names} {are} still held", "The machine does not work, or the lock is forced."),
    M.FOUND_HELD: ("left as found while {names} {are} still held", "The machine is not as it was found."),
    M.TAGGED_NOT_HELD: ("left tagged while {names} {are} not locked", "A tag alone does not stop anybody from switching it on."),
    M.GUARD_OFF: ("{guards} {off} off, and nothing says why nobody reaches in", "What is behind it lies open."),
    M.GUARDS_ON: ("hands go inside in `{title}` with every guard on", "A step or a mark that takes a guard off is missing."),
    M.RESTORE_GUARD: ("energy is put back while {guards} {off} off", "What it drives lies open."),
    M.SERVICE_GUARD: ("back to service while {guards} {off} off", "The next patient or user can reach in."),
    M.FOUND_GUARD: ("left as found while {guards} {off} off", "The next user can reach in."),
    M.RESTORE_CLEAR: ("energy is put back before people and tools are clear", "Somebody may still have hands inside."),
    M.SERVICE_UNTESTED: ("back to service without the test of {missing}", "Nobody knows whether it works."),
    M.FOUND_TOUCHED: ("left as found although it was worked on", "The next user trusts a machine that nobody tested."),
}  # fmt: skip
_SIMPLE[M.RELEASE_ORDER] = ("{others} released before {names} {are} held", _SIMPLE[M.RELEASE_ORDER][1])


def _related(found: Candidate, machine: Machine) -> Iterable[Label]:
    """Where it was undone, where it is asked for, where the same is missing again."""
    graph = found.run.graph
    if found.origin is not None:
        yield _origin_label(found, graph.at(found.origin))
    for call in graph.node_calls[found.node][:1]:
        facts = graph.facts[call[2]]
        yield Label(facts.step.heading_span, "asked for from here")
    said = {found.facts.key}
    for each in found.also:
        if each.facts.key not in said and len(said) < 4:
            said.add(each.facts.key)
            yield Label(each.facts.step.heading_span, "the same is missing here")


def _origin_label(found: Candidate, facts: Facts) -> Label:
    names = [e.name for e in found.sources]
    role = facts.role(("restores", "loads"))
    if role is not None:
        text = (
            "its caution ends here, where it is put back"
            if found.code in (M.CAUTION, M.DANGER)
            else "put back or loaded here"
        )
        return Label(role.span, text)
    proof = facts.role(("proves",))
    if proof is not None and any(facts.role(("proves",), n) for n in names):
        return Label(proof.span, "its proof can fail here")
    return Label(facts.step.heading_span, "builds up again after this step")
