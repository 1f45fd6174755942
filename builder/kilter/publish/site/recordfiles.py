"""Files of the search's records: one for the whole library, or a small first one and one a machine.

A file holds columns, not rows: that packs by a fifth smaller. What repeats stands once (`equipment`, `task`, `texts`,
`values`, `lists`) and is pointed at: a list of symptoms, parts, tools or of a stage's titles is a list of places in
`texts`; the steps of a document are a list of such lists; its values are step number and place in `values` in turn.
Document numbers follow each other closely: each is written as what it begins with of the one before, and its own rest.

A library whose one file would be large is split by equipment: the first file has what every document is called and
what it is for; numbers, parts, tools, titles of steps and values come after it, a file a machine. Nothing is left out.
"""

from __future__ import annotations

import gzip
import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import takewhile
from string import ascii_lowercase, digits
from typing import Any

from kilter.model.document import Document
from kilter.publish.site.records import ROW, records_of, units_for
from kilter.publish.site.words import now
from kilter.publish.view import DocumentView

ADDRESS, FOLDER = "records.json", "records"
"""The files of machines stand in the folder. Each file is there as a script too (`.js`), for a site that is opened
from a stick: there nothing can be fetched."""
SCHEMA, PART_SCHEMA = "kilter-records-2", "kilter-records-part-1"
MOST = 200_000
"""Bytes of the one file after gzip; above it is split."""
NUMBER, EQUIPMENT, TASK, SYMPTOMS, LATER, PARTS, TOOLS, STEPS, VALUES = (
    ROW.index(name)
    for name in (
        "number",
        "equipment",
        "task",
        "symptoms",
        "numbers",
        "parts",
        "tools",
        "steps",
        "values",
    )
)
"""Places in a row; from `LATER` on it is the file of the machine that has them, if there is one."""
_DIGITS = digits + ascii_lowercase
REVISION = 12
"""Hex digits by which the first file knows that a machine's file belongs to it."""


def records_files(
    views: Iterable[DocumentView], profiles: Iterable[Document], most: int | None = None
) -> dict[str, bytes]:
    """JSON by address in one fixed order, so that the same library gives the same bytes.

    `most` is MOST unless a caller has no need to split.
    """
    shown = list(views)
    rows = records_of(shown, profiles)
    whole = _first(rows, rows, [])
    if len(gzip.compress(whole)) <= (MOST if most is None else most):
        return {ADDRESS: whole}
    found: dict[str, bytes] = {}
    listed = []
    for title, address in machine_files(shown).items():
        data, revision = _part([row for row in rows if row[NUMBER] and row[EQUIPMENT] == title])
        found[address] = data
        listed.append((address, title, revision))
    first = [[*row[:LATER], *([] for _ in row[LATER:])] if row[NUMBER] else row for row in rows]
    return {ADDRESS: _first(first, rows, listed), **found}


def machine_files(views: Iterable[DocumentView]) -> dict[str, str]:
    """Title of a machine to the address of its file, were there one; named after the first id with that title."""
    found: dict[str, str] = {}
    for view in views:
        found.setdefault(view.equipment.title, f"{FOLDER}/{view.equipment.id}.json")
    return found


def as_script(address: str, data: bytes) -> tuple[str, bytes]:
    """A file for pages that are opened as files, with its address."""
    name = json.dumps(address).encode()
    return f"{address.removesuffix('.json')}.js", b"kilterRecords(" + name + b"," + data.strip() + b");\n"


class _Names:
    """Texts that stand once; asked for one, the place it has."""

    def __init__(self) -> None:
        self.places: dict[Any, int] = {}

    def __call__(self, text: Any) -> int:
        return self.places.setdefault(text, len(self.places))


def fronted(texts: Iterable[str]) -> Iterator[str]:
    """Each text as the count of signs that it shares with the one before (to base 36), and the rest of it."""
    before = ""
    for text in texts:
        pairs = zip(before, text[: len(_DIGITS) - 1], strict=False)
        shared = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
        yield _DIGITS[shared] + text[shared:]
        before = text


class _Pools:
    """What stands once in a file."""

    def __init__(self) -> None:
        self.equipment, self.task, self.texts, self.values, self.lists = (_Names() for _ in range(5))

    def columns(self, rows: Sequence[Sequence[Any]], start: int = 0) -> list[list[Any]]:
        """The rows' columns from `start` on, with places for what stands in a pool."""
        found = [[self._cell(n, row[n]) for row in rows] for n in range(start, len(ROW))]
        if start <= NUMBER:
            found[NUMBER - start] = list(fronted(found[NUMBER - start]))
        return found

    def _cell(self, n: int, each: Any) -> Any:
        if n in (EQUIPMENT, TASK):
            return (self.equipment if n == EQUIPMENT else self.task)(each)
        if n in (SYMPTOMS, PARTS, TOOLS):
            return self._texts(each)
        if n == STEPS:
            return self.lists(tuple(map(self._texts, each)))
        if n == VALUES:
            return self.lists(tuple(self.values(v) if at % 2 else v for at, v in enumerate(each)))
        return each

    def _texts(self, texts: Iterable[str]) -> int:
        return self.lists(tuple(map(self.texts, texts)))


def _first(
    rows: Sequence[Sequence[Any]], all_rows: Iterable[Sequence[Any]], listed: Iterable[tuple[str, str, str]]
) -> bytes:
    """The first file of these rows. Its units are those of all rows: a question is read before the rest is there."""
    pools = _Pools()
    columns = pools.columns(rows)
    return _json(
        {
            "schema": SCHEMA,
            "language": now().written,
            "equipment": list(pools.equipment.places),
            "task": list(pools.task.places),
            "units": dict(units_for({v for row in all_rows for v in row[VALUES][1::2]})),
            "parts": [[address, pools.equipment(title), revision] for address, title, revision in listed],
            "texts": list(pools.texts.places),
            "values": list(pools.values.places),
            "lists": list(pools.lists.places),
            "columns": columns,
        }
    )


def _part(rows: Sequence[Sequence[Any]]) -> tuple[bytes, str]:
    """What the first file leaves out of a machine's documents, in the order they have there, and its revision."""
    pools = _Pools()
    columns = pools.columns(rows, LATER)
    data = {
        "texts": list(pools.texts.places),
        "values": list(pools.values.places),
        "lists": list(pools.lists.places),
        "columns": columns,
    }
    revision = hashlib.sha256(_json(data)).hexdigest()[:REVISION]
    return _json({"schema": PART_SCHEMA, "revision": revision, **data}), revision


def _json(data: dict[str, Any]) -> bytes:
    return (json.dumps(data, ensure_ascii=False, separators=(",", ":")) + "\n").encode()
