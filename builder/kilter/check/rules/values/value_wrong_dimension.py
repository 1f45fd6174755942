"""A unit that does not fit what the mark is for."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.fixes import name_put
from kilter.check.marked import PURPOSES, readable, shortened
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K304"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, *PURPOSES):
        wanted = PURPOSES[marked.purpose]
        if quantity.dimension != wanted:
            article = "an" if quantity.dimension[0] in "aeiou" else "a"
            message = f"{marked.purpose} `{shortened(marked.role.text)}` is {article} {quantity.dimension}"
            cure = name_put(context.library, marked.role.span, f"{{{marked.purpose}}}", "{set}")
            help = _HELP[marked.purpose]
            yield error(
                "value-wrong-dimension", message, marked.span, help, fixes=cure if quantity.has_limit else ()
            )


_HELP = {
    "torque": "write a torque, such as `22 ± 2 N·m`, or mark it as `{set}`",
    "wait": "write a time, such as `5 min`, or mark it as `{set}` or `{read}`",
}
