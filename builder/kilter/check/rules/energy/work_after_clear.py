"""Hand work written after people were cleared or the function tested, in the same step."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.check.flow.words import OUTSIDE_WORDS
from kilter.check.grammar import imperative_at
from kilter.check.prose import Sentence, done_sentences
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, warning
from kilter.model.text import Role

CODE = "K746"
SEVERITY = Severity.WARNING

_WORD = re.compile(r"[\w'’-]+")
_DONE = ("all-clear", "tests")
_GUARDS = ("removes", "refits")


def check(context: Context) -> Iterator[Diagnostic]:
    if context.profile is None:
        return
    for step, sentences in done_sentences(context.document):
        marked = next((r for r in step.roles if r.name in _DONE), None)
        found = _late(sentences, marked) if marked is not None else None
        if found is not None and marked is not None:
            yield _finding(*found, marked)


def _late(sentences: tuple[Sentence, ...], marked: Role) -> tuple[Sentence, str] | None:
    """The first sentence after the mark that works on a guard, or begins with a verb that is none of outside work."""
    at = next((n for n, s in enumerate(sentences) if marked in s.roles), None)
    if at is None:
        return None
    roles = sentences[at].roles
    guard = next((r for r in roles[roles.index(marked) :] if r.name in _GUARDS), None)
    if guard is not None:
        return sentences[at], f"{{{guard.name}}}"
    for sentence in sentences[at + 1 :]:
        guard = next((r for r in sentence.roles if r.name in _GUARDS), None)
        word = f"{{{guard.name}}}" if guard else _inside(sentence)
        if word:
            return sentence, word
    return None


def _inside(sentence: Sentence) -> str | None:
    """The verb of an instruction, unless it is one of work from outside."""
    start = imperative_at(sentence.text)
    verb = _WORD.match(sentence.text, start) if start is not None else None
    return verb.group().casefold() if verb and verb.group().casefold() not in OUTSIDE_WORDS else None


def _finding(sentence: Sentence, word: str, marked: Role) -> Diagnostic:
    return warning(
        "work-after-clear",
        f"`{word}` after `{{{marked.name}}}` in the same step: hands may be inside again",
        sentence.span,
        "do the work in a step before; clearing people and testing come last",
        why="The mark counts at the end of the step, and what is done after it is neither cleared nor tested.",
        related=(Label(marked.span, "cleared here" if marked.name == "all-clear" else "tested here"),),
    )
