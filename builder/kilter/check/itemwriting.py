"""What gives a right answer away, or makes a question hard to read, without anything being known of its matter.

After the guidelines of Haladyna, Downing and Rodriguez (2002), as far as a program can see them; the numbers of the
guidelines are from a commentary that quotes them and partly from memory. Whether a wrong choice is plausible and
whether the matter is worth asking stays with people.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

LONGEST, SHORTEST = 1.4, 0.6
"""Of the mean length of the others: beyond it a right choice stands out. Own measure, no source."""
MOST_WORDS = 30
_ALL = re.compile(
    r"\b(?:all|none|both|neither|any) of (?:the|these|them)(?: above| others?)?\b|\ball the above\b", re.I
)
_NOT = re.compile(r"\b(?:not|never|no|except|cannot|can't|don't|isn't|won't)\b", re.I)
_ABSOLUTE = re.compile(r"\b(?:always|never|only|every|all|none|must)\b", re.I)
_NUMBER = re.compile(r"^[−-]?\d+(?:[.,]\d+)?")
_SMALL = frozenset(("with", "from", "that", "this", "which", "what", "when", "does", "have", "must"))


def cues(stem: str, choices: Sequence[str], key: int) -> Iterator[str]:
    """What betrays the right choice, each as one sentence without its end."""
    right, others = choices[key], [c for n, c in enumerate(choices) if n != key]
    mean = sum(map(len, others)) / max(1, len(others))
    numbers = [m[0] for c in choices if (m := _NUMBER.match(c.strip()))]
    if not numbers and len(right) > 12 and len(right) > mean * LONGEST and len(right) > max(map(len, others)):
        yield "the right choice is the longest by far"
    if not numbers and mean > 12 and len(right) < mean * SHORTEST and len(right) < min(map(len, others)):
        yield "the right choice is the shortest by far"
    marked = [n for n, c in enumerate(choices) if _ABSOLUTE.search(c)]
    if len(marked) == 1:
        yield f"only the choice `{choices[marked[0]]}` says always, never, only or all"
    said = _words(stem)
    echo = {w for w in _words(right) & said if not any(w in _words(c) for c in others)}
    if echo:
        yield f"only the right choice repeats `{sorted(echo)[0]}` of the question"
    if 0 < len(numbers) < len(choices):
        yield "some choices are numbers and some are words"
    units = {_NUMBER.sub("", c.strip()).strip() for c in choices} if len(numbers) == len(choices) else set()
    if len(units) > 1 and not any(u[:1] in "±–-" for u in units):
        yield "the numbers are not all in one unit"
    ends = {c.rstrip()[-1:] == "." for c in choices}
    if len(ends) > 1:
        yield "some choices end with a full stop and some do not"
    cases = {c.lstrip()[:1].isupper() for c in choices if c.lstrip()[:1].isalpha()}
    if len(cases) > 1:
        yield "some choices begin with a capital and some do not"


def wording(stem: str, choices: Sequence[str]) -> Iterator[str]:
    """What makes a question hard to read or to answer fairly."""
    if any(_ALL.search(c) for c in choices):
        yield "a choice is about the other choices: who knows two of them knows it"
    asked = re.split(r"(?<=[.!?])\s+", stem.strip())[
        -1
    ]  # what was seen before may well be that something is not so
    if _NOT.search(re.sub(r"\bNOT\b|\bEXCEPT\b", "", asked)):
        yield "the question asks for what is not so: a tired reader takes it the other way round"
    negative = [bool(_NOT.search(c)) for c in choices]
    if any(negative) and not all(negative):
        yield "some choices say no and some do not"
    if not stem.rstrip().endswith("?"):
        yield "the words are no question"
    if len(stem.split()) > MOST_WORDS:
        yield f"the question has {len(stem.split())} words"
    if re.search(r"_{2,}|\.{4,}", stem):
        yield "there is a blank inside the question"
    if re.search(r"\b(?:a|an)\s*[:?]?\s*$", stem.rstrip("?: ")):
        yield "`a` or `an` before the choices fits only some of them"
    heads = {" ".join(c.split()[:2]).casefold() for c in choices}
    if len(choices) > 1 and len(heads) == 1 and all(len(c.split()) > 2 for c in choices):
        yield f"every choice begins with `{' '.join(choices[0].split()[:2])}`"


def _words(text: str) -> set[str]:
    return {w for w in re.findall(r"[^\W\d_]{4,}", text.casefold()) if w not in _SMALL}
