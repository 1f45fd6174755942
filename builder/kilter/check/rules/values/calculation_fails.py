"""A calculation whose answer says that what is written does not hold."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.calculated import results
from kilter.check.rule import Context
from kilter.compute.calculation import InputError, Result
from kilter.diagnostic import Diagnostic, Severity, error, warning

CODE = "K320"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for block, answer in results(context):
        if isinstance(answer, InputError):
            continue
        help = "change what is written, or the part: the numbers stand in `kilter calc` and on the page"
        if answer.verdict == "fails":
            message = f"calculation `{block.name}` fails: {said(answer)}"
            yield error("calculation-fails", message, block.name_span, help)
        elif answer.verdict in ("too close to call", "not judged"):
            message = f"calculation `{block.name}`, {answer.verdict}: {said(answer)}"
            yield warning("calculation-fails", message, block.name_span, _WHAT[answer.verdict])


_WHAT = {
    "too close to call": "give what is not known yet, such as the friction or the uncertainty; or keep away from the limit",
    "not judged": "give what it is judged by, such as the strength class or the limit",
}


def said(answer: Result) -> str:
    """The answer in few words: what was asked for, or the fact that decides it."""
    decisive = [c for c in answer.cautions if ">" in c or "<" in c]
    shown = "; ".join(f"{line.name} {line.text}" for line in answer.lines if line.main)
    text = decisive[0] if decisive else shown or answer.lines[0].text
    return text if len(text) <= 110 else text[:107] + "..."
