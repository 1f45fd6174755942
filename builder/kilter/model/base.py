"""What all values of the model share."""

from __future__ import annotations

import unicodedata
from functools import lru_cache
from typing import Any, ClassVar, Self, dataclass_transform

from pydantic import BaseModel, ConfigDict


class Value(BaseModel):
    """A frozen value that comes from outside, so it is validated; two with the same content are equal."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)


@dataclass_transform(kw_only_default=True, frozen_default=True)
class Record:
    """A frozen value that our own reader makes; two with the same content are equal.

    It is written like a data class, and type checkers take it for one. Nothing is generated for a class and
    nothing validated for a value: half of a short check's time used to go into that.
    """

    _names: ClassVar[tuple[str, ...]] = ()
    _defaults: ClassVar[dict[str, Any]] = {}

    def __init_subclass__(cls) -> None:
        own = [n for n, kind in cls.__annotations__.items() if not str(kind).startswith("ClassVar")]
        cls._names = tuple(dict.fromkeys((*cls._names, *own)))
        cls._defaults = cls._defaults | {n: cls.__dict__[n] for n in own if n in cls.__dict__}

    def __init__(self, **given: Any) -> None:
        state = self.__dict__
        state.update(self._defaults)
        state.update(given)
        if len(state) != len(self._names):
            wrong = set(self._names) ^ set(state)
            raise TypeError(f"{type(self).__name__}: missing or unknown: {', '.join(sorted(wrong))}")

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"{type(self).__name__} is frozen")

    def _values(self) -> tuple[Any, ...]:
        state = self.__dict__
        return tuple(state[n] for n in self._names)

    def __eq__(self, other: object) -> bool:
        return type(other) is type(self) and self._values() == other._values()

    def __hash__(self) -> int:
        return hash((type(self), self._values()))

    def __repr__(self) -> str:
        told = ", ".join(f"{n}={self.__dict__[n]!r}" for n in self._names)
        return f"{type(self).__name__}({told})"

    def replace(self, **changes: Any) -> Self:
        """The same with some values changed."""
        return type(self)(**{n: self.__dict__[n] for n in self._names} | changes)


@lru_cache(maxsize=65_536)
def fold(name: str) -> str:
    """The form in which names are compared: without case, NFC, single blanks."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


@lru_cache(maxsize=65_536)
def slugify(title: str) -> str:
    """The anchor of a heading: lower case, NFC; letters and digits of any script stay, blanks become hyphens."""
    text = unicodedata.normalize("NFC", title).lower()
    kept = "".join(c if c.isalnum() or c in "-_" else " " if c.isspace() else "" for c in text)
    return "-".join(kept.split())
