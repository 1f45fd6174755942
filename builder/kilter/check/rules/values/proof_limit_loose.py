"""A proof of zero that passes more than the profile allows."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.limits import Limit, limit_at, limits_in, of_quantity
from kilter.check.marked import readable
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.base import fold
from kilter.model.document import Step
from kilter.model.front import ProfileFront
from kilter.source import Span

CODE = "K317"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    equipment = context.equipment
    if equipment is None:
        return
    reads = [(m.step, of_quantity(q), m.span) for m, q in readable(context, "read")]
    for _, step in context.document.all_steps():
        allowed = _allowed(step, equipment)
        if allowed:
            passed = [*_passed(step), *((limit, span) for of, limit, span in reads if of is step)]
            yield from (found for limit, span in passed if (found := _looser(limit, allowed, span)))


def _allowed(step: Step, equipment: ProfileFront) -> dict[str, tuple[str, Limit]]:
    """The loosest limit of each dimension that the profile gives for what is proved here, and whose it is."""
    found: dict[str, tuple[str, Limit]] = {}
    names = {n.key for role in step.roles if role.name == "proves" for n in role.names}
    for name, source in equipment.sources.items():
        for limit in limits_in(source.prove or "") if fold(name) in names else ():
            known = found.get(limit.dimension)
            if limit.high is not None and (known is None or _above(limit, known[1])):
                found[limit.dimension] = name, limit
    return found


def _passed(step: Step) -> Iterator[tuple[Limit, Span]]:
    """The limits of the answers that pass."""
    for answer in step.answers:
        limit = limit_at(answer.words)
        if limit is not None and answer.failure is None:
            yield limit, answer.span


def _looser(limit: Limit, allowed: dict[str, tuple[str, Limit]], span: Span) -> Diagnostic | None:
    """A limit with a lower end above zero is that of a meter tried on something live."""
    if limit.high is None or (limit.low or 0) > 0 or limit.dimension not in allowed:
        return None
    name, most = allowed[limit.dimension]
    if not _above(limit, most):
        return None
    message = f"`{limit.text}` passes more than the profile's proof of `{name}`, `{most.text}`"
    help = "write the profile's limit, or mend the profile if it is wrong"
    return warning("proof-limit-loose", message, span, help, why="What is left could still hurt.")


def _above(one: Limit, other: Limit) -> bool:
    assert one.high is not None and other.high is not None
    return (one.high, one.has_high) > (other.high, other.has_high)
