"""A torque that the tool of its step can't reach, or can't hold as closely as asked."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import TYPE_CHECKING

from kilter.check.fastened import Fastened, fastened
from kilter.check.kit import Declared, tools_in
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, hint

if TYPE_CHECKING:
    from kilter.compute.fastener_judge import Fact

CODE = "K324"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for one in fastened(context):
        judged = [(t, _facts(one, t)) for t in tools_in(context, one.marked.step) if _tightens(t)]
        if judged and all(facts for _, facts in judged):
            tool, facts = judged[0]
            yield from (_told(one, tool, fact) for fact in facts)


def _tightens(tool: Declared) -> bool:
    return tool.dimension == "torque" and tool.high is not None and tool.high > 0


def _facts(one: Fastened, by: Declared) -> list[Fact]:
    from kilter.compute.fastener_judge import judge_torque
    from kilter.compute.torque_tool import tool

    assert by.high is not None
    off = by.share if by.share is not None and 0 < by.share < 1 else None
    if off is None and by.off is not None and one.torque.base_low and one.torque.base_high:
        off = by.off * 2 / (one.torque.base_low + one.torque.base_high)  # as a share of the torque's middle
    return judge_torque(None, one.torque, tool=tool(by.high, by.low, off), lever=one.lever)


def _told(one: Fastened, by: Declared, fact: Fact) -> Diagnostic:
    message = f"`{by.name}`: {fact.text}"
    if fact.kind == "tool-out-of-range":
        help = "name a tool that reaches it, or mend the range under `tools`"
        give = hint if _low_on_its_scale(one, by) else error
        return give("torque-tool-unfit", message, one.marked.span, help)
    help = "name a closer tool, widen the tolerance if the maker allows it, or mend `accuracy` under `tools`"
    return (error if fact.sure else hint)("torque-tool-unfit", message, one.marked.span, help)


def _low_on_its_scale(one: Fastened, by: Declared) -> bool:
    """Whether the torque lies on the scale all the same, in its lowest fifth: practice only, no standard."""
    low, high, lever = one.torque.base_low, one.torque.base_high, Fraction(one.lever)
    if low is None or high is None or by.high is None:
        return False
    return (by.low or 0) <= low / lever and high / lever <= by.high
