"""Drawing lots that come out the same in Python and in a browser, in every version of either.

A draw is four bytes, big end first, of SHA-256 over `seed|n` with n = 0, 1, 2 ..; what is at or above the greatest
multiple of the number of lots is drawn again, so that every lot is equally likely. `web/paper.js` does the same.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import TypeVar

T = TypeVar("T")
SEPARATOR = "|"


def digest(*parts: object) -> str:
    """64 hex digits of the parts, joined."""
    return hashlib.sha256(SEPARATOR.join(map(str, parts)).encode("utf-8")).hexdigest()


class Draw:
    """A stream of lots from a seed."""

    def __init__(self, *seed: object) -> None:
        self._seed = digest(*seed)
        self._block = b""
        self._next = 0

    def below(self, count: int) -> int:
        """A whole number from 0 to count - 1."""
        most = (1 << 32) // count * count
        while True:
            if not self._block:
                self._block = hashlib.sha256(f"{self._seed}|{self._next}".encode()).digest()
                self._next += 1
            drawn, self._block = int.from_bytes(self._block[:4], "big"), self._block[4:]
            if drawn < most:
                return drawn % count

    def shuffled(self, items: Sequence[T]) -> list[T]:
        """The same items in a drawn order (Fisher and Yates, from the end)."""
        found = list(items)
        for n in range(len(found) - 1, 0, -1):
            other = self.below(n + 1)
            found[n], found[other] = found[other], found[n]
        return found

    def one(self, items: Sequence[T]) -> T:
        return items[self.below(len(items))]
