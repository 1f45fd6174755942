"""A setting by position, of a switch whose own tolerance leaves no position that is sure."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.check.switched import FROM_CLICK, Switched, switched
from kilter.diagnostic import Diagnostic, Fix, Severity, error
from kilter.read.cures import end_of, inserted
from kilter.source import Span

CODE = "K329"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    seen: set[Span] = set()
    for one in switched(context):
        allowed = one.window
        if allowed is not None and allowed.empty and one.field.span not in seen:
            seen.add(one.field.span)
            message = f"no position suits every `{one.name}`: its tolerance uses the window up"
            yield error("window-empty", message, one.field.value_span, _help(one), why=_WHY, fixes=_cure(one))


_WHY = "Two switches of the type operate too far apart for one position to be right for both."


def _help(one: Switched) -> str:
    if one.from_click:
        return "look at `ot` and `use` of the switch in the profile"
    return (
        f"set it from its own click: `:switch: {one.name}, {FROM_CLICK}`, and write the travel past the click"
    )


def _cure(one: Switched) -> tuple[Fix, ...]:
    if one.from_click or one.figures.ot is None or one.figures.window is not None:
        return ()
    return inserted(f"write `, {FROM_CLICK}`", end_of(one.field.value_span), f", {FROM_CLICK}")
