"""Words of the instructions that the honesty rules listen to."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from kilter.model.document import Step
from kilter.model.text import Calculation, Figure, Panel, paragraphs, plain

HOLD_WORDS = (
    "lock", "locked", "locks", "padlock", "padlocked", "pin", "pins", "pinned", "prop", "props", "propped",
    "stand", "case", "clamp", "clamped", "chock", "chocked", "wedge", "wedged", "block", "blocked", "strap",
    "strapped", "hasp", "bolt", "bolted", "latch", "latched", "chain", "chained", "clip", "clipped", "cap",
    "capped", "plug case", "key", "lockout", "jack stand", "hook", "hooked", "stops", "blank", "blanked",
)  # fmt: skip
"""What keeps a source cut off; a library adds its own."""

_OUTSIDE = """
    ask book bring call check charge choose close come compare count cover dim display dock do drive enter
    feel fill find follow get give go guide hang have hear hold inform keep lay lean leave let lift listen load
    lock log look lower mark measure move note observe open park phone place plug pour press pull pump push put
    raise read record release repeat report reset ring roll run see select send set show shut sign sit squeeze
    stand start stay stick step stop swing switch take talk tell test tick top touch treat try turn unload
    unlock unplug use wait walk warn watch wear weigh wheel wind wipe write
"""
OUTSIDE_WORDS = frozenset(_OUTSIDE.split())
"""What hands do from outside; a sentence that begins with another verb may talk of hands inside."""

_LOOKING = """
    ask book compare count hear inform listen look note observe read record report see smell tell
    wait warn watch write
"""
LOOKING_WORDS = frozenset(_LOOKING.split())
"""What is done without touching anything."""

_OTHERS = """
    a after again all also always an and any as at both do don't each either every everything first for from
    he her here his how if in it its leave most never no nobody none not nothing now of on once one only or
    our out some that the their them then there these they this those three to two until we what when where
    whether which while who with without you your
"""
_STARTS = frozenset(_OTHERS.split())
"""Words that begin a sentence and are no verb."""

_SENTENCE = re.compile(r"(?<=[.!?])\s+")


def sentences(text: str) -> list[str]:
    """The sentences of a text; a number's point does not end one."""
    return [part for part in _SENTENCE.split(text.strip()) if part]


def instruction(step: Step) -> str:
    """All words of a step but those of its panels, figures, calculations and answers."""
    blocks = tuple(b for b in step.blocks if not isinstance(b, (Panel, Figure, Calculation)))
    return " ".join(plain(p.runs) for p in paragraphs(blocks))


@lru_cache(maxsize=16)
def _pattern(more: tuple[str, ...]) -> re.Pattern[str]:
    words = sorted({*HOLD_WORDS, *(w.casefold() for w in more)}, key=len, reverse=True)
    return re.compile(r"\b(?:" + "|".join(map(re.escape, words)) + r")\b")


def says_hold(sentence: str, more: Iterable[str] = ()) -> bool:
    """Whether a sentence says what keeps a source cut off."""
    return bool(_pattern(tuple(more)).search(sentence.casefold()))


def first_words(text: str) -> list[str]:
    """What each sentence begins with, in lower case; words that are no verb in front are passed over."""
    found = []
    for sentence in sentences(text):
        every = re.findall(r"[\w'’-]+", sentence.casefold())
        found.append(next((w for w in every if w not in _STARTS), ""))
    return found


def only_looks(text: str) -> bool:
    """Whether every sentence looks, listens, asks, waits or writes down."""
    first = first_words(text)
    return bool(first) and LOOKING_WORDS.issuperset(first)


def inside_verb(text: str) -> str | None:
    """The first word of a sentence that is no verb of work from outside, None if all are."""
    for sentence in sentences(text):
        word = re.split(r"[^\w'-]+", sentence.casefold(), maxsplit=1)[0]
        if word and word.isalpha() and word not in OUTSIDE_WORDS and word not in _STARTS:
            return word
    return None
