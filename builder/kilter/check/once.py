"""Walks that several rules ask for, done once for each value they are asked about."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

Thing = TypeVar("Thing")
Result = TypeVar("Result")


def once(most: int) -> Callable[[Callable[[Thing], Result]], Callable[[Thing], Result]]:
    """Keep the results for the last `most` values or fewer.

    Values are told apart by being the same object: the content of a document would be long to hash.
    """

    def keeping(work: Callable[[Thing], Result]) -> Callable[[Thing], Result]:
        kept: dict[int, tuple[Thing, Result]] = {}
        """By the value's address; it is kept too, so that no other value can come to stand there."""

        @wraps(work)
        def asked(thing: Thing) -> Result:
            found = kept.get(id(thing))
            if found is None:
                if len(kept) >= most:
                    kept.clear()
                found = kept[id(thing)] = (thing, work(thing))
            return found[1]

        return asked

    return keeping
