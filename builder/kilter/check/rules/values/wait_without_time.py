"""A wait that may be no time at all, or whose time is not marked."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.marked import readable, shortened
from kilter.check.prose import Sentence, step_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, warning

CODE = "K308"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for marked, quantity in readable(context, "wait"):
        if quantity.dimension == "time" and (quantity.low is None or quantity.low <= 0):
            message = f"wait `{shortened(marked.role.text)}` says no least time"
            yield error("wait-without-time", message, marked.span, "write the least time, such as `5 min`")
    for _, step in context.document.all_steps():
        for sentence in step_sentences(step):
            if _unmarked(sentence):
                help = "mark it: {wait}`5 min`; only a marked time is counted and shown as a timer"
                yield warning("wait-without-time", "a wait without a marked time", sentence.span, help)


def _unmarked(sentence: Sentence) -> bool:
    """Whether it begins with "wait" and names neither a marked time nor what to wait for."""
    if "wait" not in sentence.text.casefold():
        return False
    words = [w.casefold() for w in sentence.words]
    begins = bool(words) and words[0].strip(",.") == "wait"
    return begins and "wait" not in sentence.marks and not {"until", "till", "for"} & set(words[1:2])
