"""A setting that can't be compared with its switch, because the profile's figures do not suffice."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.check.switched import TRAVEL, Switched, switched
from kilter.compute.switch import FiguresMissingError, window
from kilter.diagnostic import Diagnostic, Label, Severity, hint
from kilter.source import Span

CODE = "K331"
SEVERITY = Severity.HINT


def check(context: Context) -> Iterator[Diagnostic]:
    seen: set[Span] = set()
    for one in switched(context):
        missing = _missing(one)
        if missing and one.field.span not in seen:
            seen.add(one.field.span)
            help = "copy them from the switch's data sheet into the profile, or write its `window`"
            assert context.profile is not None
            place = context.profile.places.key("switches", one.name)
            related = (Label(place, "the switch's figures stand here"),)
            yield hint("switch-figures-missing", missing, one.field.value_span, help, related=related)


def _missing(one: Switched) -> str:
    if one.setting.dimension not in TRAVEL or (one.dimension and one.dimension != one.setting.dimension):
        return ""  # told as what it is, a setting of another measure
    try:
        window(one.figures, one.from_click)
    except FiguresMissingError as missing:
        return f"setting not checked: the profile lacks {missing} of `{one.name}`"
    return ""
