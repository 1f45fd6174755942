"""Writes into a module which state of each covered step its educator has looked at."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from kilter.check.module import ModuleContext
from kilter.mend.write import Change
from kilter.model.base import fold
from kilter.model.training import Module
from kilter.outcome import CouldNotRunError
from kilter.source import Source

KEY = "confirmed"


@dataclass(frozen=True)
class Confirmation:
    """What a module says of one step now, and what it will say."""

    step: str
    """`NUMBER#step`."""
    before: str
    """Empty where it was never confirmed."""
    now: str
    """Empty where the step is covered no more."""
    objectives: tuple[str, ...]

    @property
    def what(self) -> str:
        if not self.before:
            return "new"
        return "same" if self.before == self.now else "changed" if self.now else "gone"


def confirmations(context: ModuleContext) -> tuple[Confirmation, ...]:
    """Every covered step in order, then those that were confirmed once and are covered no more."""
    said = {fold(key): (key, digest) for key, digest in context.module.front.confirmed.items()}
    found = []
    for key, covered in context.covered.items():
        facts = context.facts(covered)
        before = said.pop(fold(key), (key, ""))[1]
        if facts is not None:
            found.append(Confirmation(key, before, facts.short, context.objectives_of(covered)))
    gone = (Confirmation(key, digest, "", ()) for key, digest in said.values())
    return (*found, *gone)


def confirmed_change(module: Module, source: Source, file: Path, hashes: Mapping[str, str]) -> Change:
    """The file with the given hashes in place of what stood under `confirmed:`; every other byte stays.

    Raises CouldNotRunError where the file is no longer what was read.
    """
    before = file.read_bytes()
    text = before.decode("utf-8")
    if text.removeprefix("\ufeff").replace("\r\n", "\n") != source.text.replace("\r\n", "\n"):
        raise CouldNotRunError(f"{file}: changed since it was read; run it again")
    rows = text.splitlines(keepends=True)
    end = "\r\n" if rows[0].endswith("\r\n") else "\n"
    first, last = _rows(module, rows)
    block = [f"{KEY}:{end}", *(f'  {step}: "{digest}"{end}' for step, digest in hashes.items())]
    return Change(file, before, "".join([*rows[:first], *block, *rows[last:]]).encode("utf-8"))


def _rows(module: Module, rows: list[str]) -> tuple[int, int]:
    """0-based rows that the key takes up; where it does not stand yet, the place before the closing line."""
    close = next(n for n in range(1, len(rows)) if rows[n].rstrip() == "---")
    if not module.places.known(KEY):
        return close, close
    first = module.places.key(KEY).line - 1
    after = (n for n in range(first + 1, close) if rows[n].strip() and not rows[n][0].isspace())
    last = next(after, close)
    return first, last
