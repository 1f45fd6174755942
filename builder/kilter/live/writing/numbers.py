"""Numbers of documents: which are taken, and which one a machine would get next."""

from __future__ import annotations

import re

from kilter.check.rules.structure.reserved_number import RESERVED_ADDRESSES, RESERVED_BEGINNINGS
from kilter.model.base import fold
from kilter.model.front import NUMBER_PATTERN
from kilter.model.library import Library

STEP = 10
"""New numbers leave room between them."""


def trouble_with(library: Library, number: str) -> str:
    """Why a number can't be had, in words for the writer; empty if it is free."""
    if not re.fullmatch(NUMBER_PATTERN, number) or len(number) > 40:
        return "Letters, digits and single hyphens, 40 at most, such as LFT-140."
    if fold(number) in RESERVED_ADDRESSES or fold(number).startswith(RESERVED_BEGINNINGS):
        return "This number is the address of a page of the site. Choose another one."
    owner = _taken(library).get(fold(number))
    return f"This number is taken by {owner}." if owner else ""


def _taken(library: Library) -> dict[str, str]:
    """Files by folded number, also of documents that can't be read."""
    claimed = {
        fold(r.claims[1]): path
        for path, r in sorted(library.readings.items())
        if r.claims and r.claims[0] != "equipment"
    }
    return claimed | {number: document.path for number, document in library.numbers.items()}


def next_number(library: Library, equipment: str) -> str:
    """The next free number with the letters that this machine's documents have."""
    own = [
        d.key for d in library.numbers.values() if fold(getattr(d.front, "equipment", "")) == fold(equipment)
    ]
    split = [m for n in own if (m := re.fullmatch(r"(.*?)(\d+)", _written(library, n)))]
    stems = [m[1] for m in split]
    stem = max(set(stems), key=lambda s: (stems.count(s), s)) if stems else _letters(library, equipment)
    digits = [m[2] for m in split if m[1] == stem]
    width = max((len(d) for d in digits), default=3)
    value = (max((int(d) for d in digits), default=100) // STEP + 1) * STEP
    while trouble_with(library, f"{stem}{value:0{width}d}"):
        value += STEP
    return f"{stem}{value:0{width}d}"


def _written(library: Library, key: str) -> str:
    front = library.numbers[fold(key)].front
    return str(getattr(front, "number", key))


def _letters(library: Library, equipment: str) -> str:
    """Three letters of the machine's id that no other document begins with."""
    used = {re.split(r"\d|-", number)[0] for number in library.numbers}
    letters = re.sub(r"[^a-z]", "", fold(equipment))
    hard = letters[:1] + re.sub(r"[aeiou]", "", letters[1:])
    for stem in (hard[:3], letters[:3], hard[:4], letters[:4], letters):
        if len(stem) > 1 and stem not in used:
            return stem.upper() + "-"
    return "DOC-"
