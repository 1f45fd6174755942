"""A torque that stretches its screw beyond its proof load."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from kilter.check.fastened import Fastened, fastened
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error, hint

if TYPE_CHECKING:
    from kilter.compute.fastener_judge import Fact

CODE = "K322"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for one in fastened(context):
        if one.possible:
            from kilter.compute.fastener_judge import judge_torque

            facts = judge_torque(
                one.fastener, one.torque, one.friction, prevailing=one.worked.get("prevailing")
            )
            yield from (_told(one, f) for f in facts if f.kind in ("above-proof", "may-exceed-proof"))


def _told(one: Fastened, fact: Fact) -> Diagnostic:
    related = (Label(one.field.span, "the screw is named here"),) if one.field is not None else ()
    if fact.sure:
        help, why = (
            "lower the torque, or look at the class on the screw's head",
            "It stretches for good, or breaks.",
        )
        return error("torque-above-proof", fact.text, one.marked.span, help, why=why, related=related)
    help = "give its friction, such as `:friction: K 0.2`, or lower the torque"
    return hint("torque-above-proof", fact.text, one.marked.span, help, related=related)
