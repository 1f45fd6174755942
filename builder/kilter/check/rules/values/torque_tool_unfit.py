"""A torque that the tool of its step can't reach, or can't hold as closely as asked."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fastened import Fastened, fastened
from kilter.check.kit import Declared, tools_in
from kilter.check.rule import Context
from kilter.compute.fastener_judge import Fact, judge_torque
from kilter.compute.torque_tool import tool
from kilter.diagnostic import Diagnostic, Severity, error, hint

CODE = "K324"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for one in fastened(context):
        judged = [(t, _facts(one, t)) for t in tools_in(context, one.marked.step) if _tightens(t)]
        if judged and all(facts for _, facts in judged):
            name, facts = judged[0][0].name, judged[0][1]
            yield from (_told(one, name, fact) for fact in facts)


def _tightens(tool: Declared) -> bool:
    return tool.dimension == "torque" and tool.high is not None and tool.high > 0


def _facts(one: Fastened, by: Declared) -> list[Fact]:
    assert by.high is not None
    off = by.share if by.share is not None and 0 < by.share < 1 else None
    if off is None and by.off is not None and one.torque.base_low and one.torque.base_high:
        off = by.off * 2 / (one.torque.base_low + one.torque.base_high)  # as a share of the torque's middle
    return judge_torque(None, one.torque, tool=tool(by.high, by.low, off), lever=one.lever)


def _told(one: Fastened, name: str, fact: Fact) -> Diagnostic:
    message = f"`{name}`: {fact.text}"
    if fact.kind == "tool-out-of-range":
        help = "name a tool that reaches it, or mend the range under `tools`"
        return error("torque-tool-unfit", message, one.marked.span, help)
    help = "name a closer tool, widen the tolerance if the maker allows it, or mend `accuracy` under `tools`"
    return (error if fact.sure else hint)("torque-tool-unfit", message, one.marked.span, help)
