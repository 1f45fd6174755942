"""What the tool has to say about a place in a file."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import IntEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

from kilter.source import Span


class Severity(IntEnum):
    """How much it matters; only an error refuses a document."""

    HINT = 1
    WARNING = 2
    ERROR = 3

    def __str__(self) -> str:
        return self.name.lower()


@dataclass(frozen=True, slots=True)
class Label:
    """A further place, and what it has to do with the finding."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Hop:
    """One stop on the way that leads to the finding: a step's title and the answer taken there."""

    step: str
    answer: str = ""
    span: Span | None = None
    skipped: int = 0
    """Steps on the way that are left out just before this one."""


@dataclass(frozen=True, slots=True)
class Edit:
    """A stretch of a file and the text that takes its place; an empty stretch is an insertion."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Fix:
    """One way to mend a finding; its edits do not overlap and are made together."""

    title: str
    """What it does, as an order: "spell it `battery`"."""
    edits: tuple[Edit, ...]
    alone: bool = False
    """Whether it may be applied with nobody choosing: never for energy safety, never one of several."""
    leaves_blank: bool = False
    """Whether it writes a marked blank, which stays an error until a person has filled it."""


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One finding: exactly one primary place, any number of related ones."""

    rule: str
    """Name of the rule, as in `kilter explain NAME`."""
    severity: Severity
    message: str
    """Lower case, no full stop, makes sense alone."""
    span: Span
    help: str = ""
    """What to write, and where."""
    why: str = ""
    """What could happen, in one sentence."""
    related: tuple[Label, ...] = ()
    way: tuple[Hop, ...] = ()
    """How one gets there, for findings about paths."""
    code: str = ""
    """Filled in from the rule's page by the check."""
    fixes: tuple[Fix, ...] = ()
    """Ways to mend it that a program can apply, the likeliest first."""

    def with_code(self, code: str) -> Diagnostic:
        return replace(self, code=code)

    @property
    def sort_key(self) -> tuple[object, ...]:
        return (self.span.path, self.span.line, self.span.column, -self.severity, self.rule, self.message)


def error(rule: str, message: str, span: Span, help: str = "", **more: object) -> Diagnostic:
    """A finding that refuses the document."""
    return Diagnostic(rule, Severity.ERROR, message, span, help, **more)  # type: ignore[arg-type]


def warning(rule: str, message: str, span: Span, help: str = "", **more: object) -> Diagnostic:
    """A finding that a reviewer should see."""
    return Diagnostic(rule, Severity.WARNING, message, span, help, **more)  # type: ignore[arg-type]


def hint(rule: str, message: str, span: Span, help: str = "", **more: object) -> Diagnostic:
    """A finding that makes a good document better."""
    return Diagnostic(rule, Severity.HINT, message, span, help, **more)  # type: ignore[arg-type]


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that was probably meant, or None."""
    from difflib import get_close_matches

    known = list(known)
    folded = {k.casefold(): k for k in known}
    found = get_close_matches(word.casefold(), folded, n=1, cutoff=0.6)
    return folded[found[0]] if found else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Help text: the near miss if there is one, else all that is possible."""
    known = list(known)
    near = nearest(word, known)
    if near is not None:
        return f"did you mean `{near}`?"
    return "possible: " + ", ".join(f"`{k}`" for k in known) if known else "there is none to choose from"
