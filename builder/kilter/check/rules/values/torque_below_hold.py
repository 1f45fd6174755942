"""A torque too low for the clamp force that the step's calculation asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from kilter.check.fastened import Fastened, fastened
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, hint

if TYPE_CHECKING:
    from kilter.compute.fastener_judge import Fact

CODE = "K323"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for one in fastened(context):
        clamp = one.worked.get("least-clamp")
        if one.possible and clamp is not None:
            from kilter.compute.fastener_judge import judge_torque

            facts = judge_torque(
                one.fastener,
                one.torque,
                one.friction,
                prevailing=one.worked.get("prevailing"),
                least_clamp=clamp,
            )
            yield from (_told(one, f) for f in facts if f.kind == "below-hold")


def _told(one: Fastened, fact: Fact) -> Diagnostic:
    why = "The joint can slip or open."
    if fact.sure:
        help = "raise the torque, or mend `:least-clamp:` of the calculation if it is wrong"
        return error("torque-below-hold", fact.text, one.marked.span, help, why=why)
    help = "give its friction, such as `:friction: K 0.2`, or raise the torque"
    return hint("torque-below-hold", fact.text, one.marked.span, help, why=why)
