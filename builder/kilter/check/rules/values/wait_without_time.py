"""A wait that may be no time at all, or whose time is not marked."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.marked import readable, shortened
from kilter.check.prose import Sentence, step_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, error, warning
from kilter.read.cures import replaced, text_at
from kilter.source import Span

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
                message, cure = "a wait without a marked time", _marked(context, sentence.span)
                yield warning("wait-without-time", message, sentence.span, help, fixes=cure)


_TIME = re.compile(r"(?<![\w`.{])\d+(?:\.\d+)?\s?(?:min|s|h|minutes?|seconds?|hours?)\b(?!`)")


def _marked(context: Context, span: Span) -> tuple[Fix, ...]:
    """The one time of the sentence, marked."""
    source = context.library.sources.get(span.path)
    times = list(_TIME.finditer(text_at(source, span))) if source is not None else []
    if len(times) != 1:
        return ()
    start = span.column + times[0].start()
    place = Span(span.path, span.line, start, span.line, start + len(times[0][0]))
    return replaced("mark the time", place, f"{{wait}}`{times[0][0]}`")


def _unmarked(sentence: Sentence) -> bool:
    """Whether it begins with "wait" and names neither a marked time nor what to wait for."""
    if "wait" not in sentence.text.casefold():
        return False
    words = [w.casefold() for w in sentence.words]
    begins = bool(words) and words[0].strip(",.") == "wait"
    return begins and "wait" not in sentence.marks and not {"until", "till", "for"} & set(words[1:2])
