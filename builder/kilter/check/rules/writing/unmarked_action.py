"""Words that put energy on or take a guard off, in a step that marks nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.flow.facts import DEFAULT_HANDS
from kilter.check.grammar import imperative_at
from kilter.check.marked import shortened
from kilter.check.prose import Sentence, done_sentences
from kilter.check.rule import Context
from kilter.check.words import FITTING, TAKING_OFF, TURNING_ON
from kilter.diagnostic import Diagnostic, Severity, hint
from kilter.model.front import ProfileFront

CODE = "K509"
SEVERITY = Severity.HINT

_WORD = re.compile(r"[\w'’-]+")


def check(context: Context) -> Iterator[Diagnostic]:
    equipment = context.equipment
    if equipment is None:
        return
    for step, sentences in done_sentences(context.document):
        if step.field("do") is None and not any(r.name in DEFAULT_HANDS for r in step.roles):
            found = (_said(sentence, equipment) for sentence in sentences)
            yield from (one for one in found if one is not None)


def _said(sentence: Sentence, equipment: ProfileFront) -> Diagnostic | None:
    start = imperative_at(sentence.text)
    verb = _WORD.match(sentence.text, start) if start is not None else None
    if start is None or verb is None:
        return None
    on = TURNING_ON.match(sentence.text, start)
    if on is not None:
        help = "mark it: `{restores}` where a hold comes off, `{runs-on}` where the step only needs it on"
        return _finding(sentence, start, on.end(), help)
    word = verb.group().casefold()
    found = _guard(sentence, start, equipment) if word in TAKING_OFF | FITTING else None
    if found is None:
        return None
    mark = "removes" if word in TAKING_OFF else "refits"
    return _finding(sentence, start, found[1], f"mark it where it is said: `{{{mark}}}` for {found[0]}")


def _guard(sentence: Sentence, start: int, equipment: ProfileFront) -> tuple[str, int] | None:
    """The guard that is the verb's object, named in plain words, and where its name ends."""
    rest = sentence.text[start:]
    for guard in equipment.guards:
        name = r"\s+".join(map(re.escape, guard.split()))
        match = re.match(rf"(?i)[\w-]+\s+(?:off\s+|up\s+|away\s+)?(?:the\s+|its\s+)?{name}\b", rest)
        if match is not None:
            return guard, start + match.end()
    return None


def _finding(sentence: Sentence, start: int, end: int, help: str) -> Diagnostic:
    message = f"`{shortened(sentence.text[start:end])}` changes what the proof counts on, and the step marks nothing"
    return hint("unmarked-action", message, sentence.place(start, end), help)
