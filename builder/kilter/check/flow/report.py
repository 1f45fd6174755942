"""Candidates as findings: what is wrong, where, how one gets there, and what to write."""

from __future__ import annotations

from collections.abc import Iterable

from kilter.check.flow.advice import advice
from kilter.check.flow.candidates import Candidate, another_way
from kilter.check.flow.cures import cures
from kilter.check.flow.facts import Facts
from kilter.check.flow.fields import INSIDE, LIVE, OPEN, PROBE
from kilter.check.flow.machine import Machine
from kilter.check.flow.marks import M
from kilter.check.flow.messages import words
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


def rule_at(code: int, hands: int) -> str:
    """The rule of an obligation in a step with these hands."""
    return BY_HANDS[hands] if code == M.LEVEL else RULE_OF[M(code)]


def finding(found: Candidate, machine: Machine) -> Diagnostic:
    """The finding for one candidate."""
    rule = rule_at(found.code, found.facts.hands)
    message, why = words(found, machine)
    origin = frozenset() if found.origin is None else frozenset((found.origin,))
    return Diagnostic(
        rule=rule,
        severity=RULES[rule],
        message=message,
        span=_span(found),
        help=advice(found, machine),
        fixes=cures(found, machine),
        why=f"{why} Another way to this step is in order." if another_way(found) else why,
        related=tuple(_related(found, machine)),
        way=hops(found.run, found.way, origin),
    )


def _span(found: Candidate) -> Span:
    """The mark that asks, else the exit, else the heading."""
    facts = found.facts
    kinds = _ROLES.get(found.code, ())
    if found.code in (M.LEVEL, M.CAUTION, M.DANGER, M.GUARDS_ON):
        kinds = _BY_HANDS_ROLES.get(facts.hands, ())
    first = found.sources[0].name if found.sources else None
    role = facts.role(kinds, first) or facts.role(kinds)
    if role is not None:
        named = next((n.span for n in role.names if first and n.key == first.casefold()), None)
        return named if named and len(role.names) > 1 else role.span
    field = facts.step.field("exit")
    return field.value_span if facts.exit and field else facts.step.heading_span


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
