"""Titles made of pasted sentences: short, in small letters."""

from __future__ import annotations

import re

from kilter.check.words import VERBS
from kilter.live.writing.blocks import Block

MOST = 7
"""Words in the title of a step."""

_ENDS = re.compile(r"[.:;!?]\s|[.:;!?]$|, | [–—-] | \(|\n")
_SMALL = frozenset(
    [
        "a",
        "an",
        "the",
        "of",
        "to",
        "from",
        "with",
        "and",
        "or",
        "in",
        "on",
        "at",
        "for",
        "by",
        "until",
        "as",
        "into",
        "onto",
        "is",
        "are",
        "its",
    ]
)


def short_title(block: Block) -> str:
    """The first words of a step, cut where a thought ends."""
    text = _bare(block.text) if block.ready else block.text
    first = next((part for part in _ENDS.split(text) if re.search(r"\w", part)), "")
    words = _one_order(first.split())[:MOST]
    while len(words) > 1 and (words[-1].lower() in _SMALL or not words[-1].strip("0123456789.,±+-/")):
        words.pop()
    title = calm(" ".join(words)).strip(" ,;:.-–—")
    return title[:1].upper() + title[1:] if title else "Step"


def _one_order(words: list[str]) -> list[str]:
    """Up to an `and` that another order follows."""
    for n in range(3, len(words) - 1):
        if words[n] in ("and", "then") and words[n + 1].lower() in VERBS:
            return words[:n]
    return words


def _bare(text: str) -> str:
    """Markdown without its marks."""
    return re.sub(r"\\(.)", r"\1", re.sub(r"(?<!\\)\*+", "", text))


def calm(text: str) -> str:
    """A heading in capitals as a sentence; short forms such as PCB or F2 stay."""
    if not text.isascii() or text.upper() != text or text.lower() == text:
        return text
    calmed = " ".join(w if _short_form(w) else w.lower() for w in text.split())
    return (
        re.sub(r"(?<![\w])[a-z]", lambda m: m[0].upper(), calmed, count=1)
        if re.match(r"[\W\d]*[a-z]", calmed)
        else calmed
    )


def _short_form(word: str) -> bool:
    letters = re.sub(r"\W", "", word)
    return any(c.isdigit() for c in letters) or (1 < len(letters) <= 5 and not re.search("[AEIOUY]", letters))
