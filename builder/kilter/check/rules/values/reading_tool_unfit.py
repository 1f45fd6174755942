"""A reading that the tool of its step is too coarse for, or can't show at all."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kilter.check.kit import Declared, tools_in
from kilter.check.marked import Marked, readable, shortened
from kilter.check.rule import Context
from kilter.compute.value import Quantity
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K335"
SEVERITY = Severity.ERROR

_MAGNITUDE = "temperature"
"""A dimension whose zero is no end of its scale."""


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, limit in readable(context, "read"):
        declared = list(tools_in(context, marked.step))
        if any(t.range and not t.dimension for t in declared):
            continue  # a tester's programme may be what measures it
        tools = [t for t in declared if t.dimension == limit.dimension]
        said = [why for t in tools if (why := _unfit(t, limit))]
        if said and len(said) == len(tools) and limit.has_limit:
            yield _told(marked, *said[0])


def _told(marked: Marked, message: str, help: str) -> Diagnostic:
    said = f"reading `{shortened(marked.role.text)}`: {message}"
    return error("reading-tool-unfit", said, marked.span, help)


def _unfit(tool: Declared, limit: Quantity) -> tuple[str, str] | None:
    """What the tool can't do and what to do about it; None where it can, or nothing is known."""
    low, high = limit.base_low, limit.base_high
    if (tool.high is not None and low is not None and low > tool.high) or (
        tool.low is not None and high is not None and high < tool.low
    ):
        help = "name a tool whose range holds the limit, or mend `range` under `tools`"
        return f"`{tool.name}` shows {tool.range} only", help
    if _never(tool, low, high, limit.dimension):
        help = "name a closer tool, or mend `accuracy` under `tools`; without it no reading is sure to pass"
        return f"`{tool.name}` is too coarse, {tool.accuracy}: no reading passes for sure", help
    return None


def _never(tool: Declared, low: Fraction | None, high: Fraction | None, dimension: str) -> bool:
    """Whether even the best reading may, with the tool as far off as it may be, lie outside."""
    if high is None:
        return False
    if tool.off is not None:
        if low is not None:
            return high - low < 2 * tool.off
        return dimension != _MAGNITUDE and 0 < high < tool.off
    if tool.share is None or low is None or low <= 0:
        return False
    return low / (1 - tool.share) > high / (1 + tool.share) if tool.share < 1 else True
