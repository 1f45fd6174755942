"""What pages are made of, and a memory of what each page asked for.

A page that was made is kept together with every fact it asked for; it holds as long as all of them are the
same. So nothing has to be told what leans on what, and nothing can be forgotten.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

Value = TypeVar("Value")
Fact = tuple[str, str]
"""The name of a question and what it is about."""
_PLAIN = (str, bytes, bool, int, float, tuple)


def same(old: Any, new: Any) -> bool:
    """Large things are compared by identity: whoever answers keeps the old one while it is right."""
    return old is new or (isinstance(old, _PLAIN) and type(old) is type(new) and old == new)


@dataclass
class _Made(Generic[Value]):
    generation: int
    """When it was last known to be right."""
    asked: dict[Fact, Any]
    value: Value


class Memory(Generic[Value]):
    """Things that were made from facts, each under a name, kept while those facts are the same."""

    def __init__(self, facts: Facts, most: int = 1_000_000) -> None:
        self.facts, self.most = facts, most
        self._made: dict[str, _Made[Value]] = {}

    def get(self, name: str, make: Callable[[], Value]) -> Value:
        made = self._made.get(name)
        if made is None or not self._holds(made):
            with self.facts.noted() as asked:
                value = make()
            made = _Made(self.facts.generation(), asked, value)
        self._made.pop(name, None)
        self._made[name] = made
        if len(self._made) > self.most:
            del self._made[next(iter(self._made))]  # what was not asked for the longest
        # whoever made this asked, through it, for the same facts
        self.facts.note(made.asked)
        return made.value

    def _holds(self, made: _Made[Value]) -> bool:
        now = self.facts.generation()
        if made.generation != now:
            if not all(same(old, self.facts.quiet(fact)) for fact, old in made.asked.items()):
                return False
            made.generation = now
        return True

    def forget(self, keep: Callable[[str], bool]) -> None:
        """Drop what is no longer wanted."""
        self._made = {name: made for name, made in self._made.items() if keep(name)}

    def __len__(self) -> int:
        return len(self._made)


class Facts:
    """Asks a table of questions, and notes what was asked while something is being made."""

    def __init__(self, generation: Callable[[], int]) -> None:
        self.generation = generation
        self.questions: dict[str, Callable[[str], Any]] = {}
        self._notes: list[dict[Fact, Any]] = []

    def ask(self, question: str, about: str = "") -> Any:
        """The answer, noted as something that what is being made stands on."""
        with self._unnoted():
            answer = self.questions[question](about)
        self.note({(question, about): answer})
        return answer

    def quiet(self, fact: Fact) -> Any:
        """The answer, noted nowhere."""
        with self._unnoted():
            return self.questions[fact[0]](fact[1])

    def note(self, asked: dict[Fact, Any]) -> None:
        if self._notes:
            self._notes[-1].update(asked)

    @contextmanager
    def noted(self) -> Iterator[dict[Fact, Any]]:
        """Collects what is asked inside."""
        self._notes.append({})
        try:
            yield self._notes[-1]
        finally:
            self._notes.pop()

    @contextmanager
    def _unnoted(self) -> Iterator[None]:
        """What an answer asks on its way is its own affair: its value is what counts."""
        self._notes.append({})
        try:
            yield
        finally:
            self._notes.pop()
