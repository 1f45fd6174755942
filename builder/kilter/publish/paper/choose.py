"""Which cards a batch is made of: by number, by machine, by a list, by kind."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path

from kilter.model.base import fold
from kilter.outcome import CouldNotRunError
from kilter.publish.cards.family import KINDS, Kind, Subject, kinds_for
from kilter.publish.prepare import Prepared, Withheld, machines

LONGEST_LIST = 1_000_000
"""Bytes of a list; a longer file is something else."""


@dataclass(frozen=True)
class Wish:
    """What was asked for."""

    names: tuple[str, ...] = ()
    """Numbers of documents, ids of machines, or files of either."""
    equipment: tuple[str, ...] = ()
    """Ids of machines: their own cards and those of their documents."""
    every: bool = False
    kinds: tuple[str, ...] = ()
    """Names of kinds; empty for the main card of a document, and all cards of a machine named by itself."""


@dataclass
class Chosen:
    """What can be printed, and what is refused."""

    cards: list[tuple[Kind, Subject]] = field(default_factory=list)
    """By kind, so that cards of one size lie together."""
    refused: list[Withheld] = field(default_factory=list)


def read_list(file: Path) -> list[str]:
    """Names from a file, one a line; what follows `#` is a remark."""
    try:
        if file.stat().st_size > LONGEST_LIST:
            raise CouldNotRunError(f"{file}: too long for a list of numbers")
        text = file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise CouldNotRunError(f"{file}: not UTF-8 text; write one number a line") from None
    names = [line.partition("#")[0].strip() for line in text.splitlines()]
    found = [name for name in names if name]
    if not found:
        raise CouldNotRunError(f"{file}: no numbers in it; write one a line, such as LFT-120")
    return found


def choose(ready: Prepared, wish: Wish) -> Chosen:
    """The cards that were asked for. Raises CouldNotRunError for a name that nothing has."""
    wanted = _kinds(wish.kinds)
    found = _Names(ready)
    chosen = Chosen()
    subjects: dict[str, tuple[Subject, bool]] = {}
    for held, subject, outright in found.all(wish):
        if held is not None:
            if held not in chosen.refused:
                chosen.refused.append(held)
        elif subject is not None:
            before = subjects.get(subject.address)
            subjects[subject.address] = (subject, outright or (before is not None and before[1]))
    pairs = [(k, s) for s, outright in subjects.values() for k in _of(s, wanted, outright)]
    chosen.cards = sorted(pairs, key=lambda pair: KINDS.index(pair[0]))
    return chosen


def _of(subject: Subject, wanted: frozenset[str], outright: bool) -> Iterable[Kind]:
    for kind in kinds_for(subject):
        if kind.name in wanted or (not wanted and (kind.main or (outright and kind.made_of == "equipment"))):
            yield kind


def kind_names() -> list[str]:
    return list(dict.fromkeys(kind.name for kind in KINDS))


def _kinds(names: Sequence[str]) -> frozenset[str]:
    known = kind_names()
    for name in names:
        if name not in (*known, "all"):
            raise CouldNotRunError(f"`{name}` is no kind of card; the kinds are {', '.join(known)}, or all")
    return frozenset(known if "all" in names else names)


Found = tuple[Withheld | None, Subject | None, bool]
"""A refusal or a subject, and whether it was named by itself."""


class _Names:
    """What every name stands for."""

    def __init__(self, ready: Prepared) -> None:
        self.ready = ready
        self.machines = machines(ready)
        self.subjects: dict[str, Subject] = {fold(m.number): m for m in self.machines}
        self.subjects |= {fold(v.number): v for v in ready.views}
        self.held: dict[str, Withheld] = {}
        self.by_file: dict[Path, str] = {}
        for held in ready.withheld:
            document = ready.library.documents.get(held.path)
            self.held[fold(document.key) if document else held.path] = held
        for path, document in ready.library.documents.items():
            self.by_file[ready.library.file_of(path).resolve()] = fold(document.key)
        for path in ready.library.sources.keys() - ready.library.documents.keys():
            self.by_file[ready.library.file_of(path).resolve()] = path

    def all(self, wish: Wish) -> Iterable[Found]:
        for name in wish.names:
            yield self._named(name)
        for id in wish.equipment:
            yield from self._machine(id)
        if wish.every:
            yield from ((None, subject, True) for subject in self.subjects.values())
            yield from ((held, None, True) for held in self.ready.withheld)

    def _named(self, name: str) -> Found:
        key = self.by_file.get(Path(name).resolve(), fold(name))
        if key in self.subjects:
            return None, self.subjects[key], True
        if key in self.held:
            return self.held[key], None, True
        raise self._unknown(name, "document or machine", self.subjects)

    def _machine(self, id: str) -> Iterable[Found]:
        key, library = fold(id), self.ready.library
        own = next((p for p, d in library.documents.items() if d.is_profile and fold(d.key) == key), None)
        if own is None:
            raise self._unknown(id, "machine", [fold(m.number) for m in self.machines])
        yield self.held.get(key), self.subjects.get(key), True
        for document in library.documents.values():
            profile = None if document.is_profile else library.profile_of(document)
            if profile is not None and profile.path == own:
                name = fold(document.key)
                yield self.held.get(name), self.subjects.get(name), False

    def _unknown(self, name: str, what: str, known: Iterable[str]) -> CouldNotRunError:
        close = get_close_matches(fold(name), list(known), 1)
        hint = f"; did you mean {self.subjects[close[0]].number}?" if close else ""
        unread = [p for p in sorted(self.held) if p in self.ready.library.sources]
        if unread and not close:
            hint = f"; what these files hold can't be read: {', '.join(unread[:5])}"
        return CouldNotRunError(f"`{name}`: no {what} of that name in the library{hint}")
