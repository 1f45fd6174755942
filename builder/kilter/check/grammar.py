"""What a sentence is: an instruction, two of them, one with its condition behind it."""

from __future__ import annotations

import re
from functools import lru_cache

from kilter.check.words import (
    ASKS,
    CONDITION,
    CONDITIONS,
    FOLLOWERS,
    MATTERS,
    NOT_VERBS,
    OPENERS,
    SIMULTANEOUS,
    VERBS,
)

_JOIN = re.compile(r"(?i)(?:,|;)?\s+(?:and then|then|and)\s+(\w+)\b\s*([\w\ufffc]+)?|;\s*(\w+)")
_THING = re.compile(r"\w+[^su]s|under|inside|behind|from")
"""After the name of a thing: what it does, or where it is."""
_WORD = re.compile(r"[\w'’\ufffc][\w'’\ufffc-]*")
_NO_VERB = NOT_VERBS | CONDITIONS


@lru_cache(maxsize=4096)
def imperative_at(sentence: str) -> int | None:
    """Where the verb of an instruction begins, None if the sentence tells nobody to do anything."""
    words = list(_WORD.finditer(sentence))
    first = _skip_openers(words, 0)
    if first < len(words) and _is_verb(words, first):
        return words[first].start()
    opens = words[0].group().casefold() if words else ""
    if opens in CONDITIONS:
        return _after_comma(sentence, words)
    return None


def _skip_openers(words: list[re.Match[str]], at: int) -> int:
    while at < len(words) - 1 and words[at].group().casefold().replace("’", "'") in OPENERS:
        at += 1
    return at


def _after_comma(sentence: str, words: list[re.Match[str]]) -> int | None:
    """The verb after the comma that ends a leading clause."""
    for comma in re.finditer(r"[,:]", sentence):
        n = next((n for n, w in enumerate(words) if w.start() > comma.start()), None)
        if n is not None:
            n = _skip_openers(words, n)
            if n < len(words) and words[n].group().casefold() in VERBS:
                return words[n].start()
    return None


def _is_verb(words: list[re.Match[str]], at: int) -> bool:
    word = words[at].group().casefold()
    after = words[at + 1].group().casefold() if at + 1 < len(words) else ""
    if word in MATTERS and after not in FOLLOWERS and _THING.fullmatch(after):
        return False
    if word in VERBS:
        return after not in ("is", "are", "was", "were", "has", "can", "will", "may", "must", "should")
    return word.isalpha() and word not in _NO_VERB and not word.endswith("ing") and after in FOLLOWERS


def second_instruction(sentence: str) -> tuple[int, int] | None:
    """Where a sentence goes on to a second instruction, as offsets of the joining words and the verb."""
    start = imperative_at(sentence)
    if start is None:
        return None
    for join in _JOIN.finditer(sentence):
        if len(sentence[start : join.start()].split()) < 2:
            continue  # "open and shut the door" is one act, and nothing comes before the first verb
        verb = (join.group(1) or join.group(3) or "").casefold()
        after = (join.group(2) or "").casefold()
        if verb in VERBS and (not after or after in FOLLOWERS or after[0] in "\ufffc0123456789"):
            at_once = SIMULTANEOUS.search(sentence)
            return None if at_once else (join.start(), join.end(1) if join.group(1) else join.end(3))
    return None


def condition_after(sentence: str) -> tuple[int, int] | None:
    """Where an instruction names its condition only after itself, as offsets of the joining word."""
    start = imperative_at(sentence)
    if start is None:
        return None
    for found in CONDITION.finditer(sentence, start):
        if not ASKS.search(sentence, start, found.start(1)):
            return found.start(1), found.end(1)
    return None
