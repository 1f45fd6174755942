"""What the search knows: one small record a document, made from the model.

One file for the whole library, whose repeated words stand once (`texts`, `equipment`, `task`, `values`) and are
pointed at. `ROW` and `VALUE` say what stands where. The phone makes its index from it: `assets/search-engine.js`.
"""

from __future__ import annotations

import gzip
import json
import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

from kilter.compute.units import UNITS, spellings
from kilter.model.document import Document
from kilter.model.front import ProcedureFront
from kilter.publish.site.terms import task_word
from kilter.publish.site.words import now, word
from kilter.publish.values import other_words, parts_of, read
from kilter.publish.view import DocumentView, equipment_address

ADDRESS, FOR_FILES = "records.json", "records.js"
"""The second is the same as a script, for a site that is opened from a stick: there nothing can be fetched."""
SCHEMA = "kilter-records-1"
MOST = 200_000
"""Bytes after gzip. A library whose records would be larger is searched without the titles of its steps."""
ROW = (
    "address", "number", "title", "revision", "equipment", "task", "symptoms", "numbers", "parts", "tools", "steps",
    "values",
)  # fmt: skip
"""`symptoms`: what is noticed and its synonyms in turn; `steps`: a list of titles a stage; `values`: the place (number
of the step) and the value in turn. Empty ends are left out."""
VALUE = ("text", "unit", "nominal", "low", "high", "other unit", "nominal", "low", "high")
"""As written, and as shown in the other system of units."""
UNIT = ("symbol", "dimension", "factor", "offset", "imperial")
"""Value in the base unit = value · factor + offset."""
_CODE = re.compile(r"\b(?=[\w-]*\d)(?=[\w-]*[A-Za-z])\w[\w-]*\b")
"""A word with letters and digits: an error code, a fuse, a jack."""
_IMPERIAL = frozenset(
    [
        "lbf·in",
        "lbf·ft",
        "ozf·in",
        "in",
        "ft",
        "psi",
        "inHg",
        "inH2O",
        "lbf",
        "ozf",
        "lb",
        "°F",
        "lbf/in",
        "in²",
    ]
)


def records_file(views: Iterable[DocumentView], profiles: Iterable[Document]) -> bytes:
    """JSON in one fixed order, so that the same library gives the same bytes."""
    shown, machines = list(views), list(profiles)
    data = _Records(shown, machines, steps=True).data()
    if len(gzip.compress(data)) > MOST:
        data = _Records(shown, machines, steps=False).data()
    return data


def as_script(data: bytes) -> bytes:
    """The records for pages that are opened as files."""
    return b"kilterRecords(" + data.strip() + b");\n"


class _Names:
    """Texts that stand once; asked for one, the place it has."""

    def __init__(self) -> None:
        self.places: dict[Any, int] = {}

    def __call__(self, text: Any) -> int:
        return self.places.setdefault(text, len(self.places))


class _Records:
    def __init__(self, views: list[DocumentView], profiles: list[Document], steps: bool) -> None:
        self.steps = steps
        self.equipment, self.task, self.texts, self.values = _Names(), _Names(), _Names(), _Names()
        self.rows = [*map(self._document, views), *map(self._machine, profiles)]

    def data(self) -> bytes:
        values = list(self.values.places)
        file = {
            "schema": SCHEMA,
            "language": now().written,
            "equipment": list(self.equipment.places),
            "task": list(self.task.places),
            "texts": list(self.texts.places),
            "units": dict(_units({unit for v in values for unit in (v[1], *v[5:6])})),
            "values": values,
            "steps": self.steps,
            "rows": self.rows,
        }
        return (json.dumps(file, ensure_ascii=False, separators=(",", ":")) + "\n").encode()

    def _document(self, view: DocumentView) -> list[Any]:
        front = view.front
        symptoms = front.symptoms if isinstance(front, ProcedureFront) else ()
        said = [(s.symptom, ", ".join(s.also)) for s in symptoms]
        stock = [row.stock for row in view.kit if row.stock]
        codes = [code for pair in said for words in pair for code in _CODE.findall(words)]
        return _trimmed(
            [
                "" if view.address == f"{view.number.lower()}.html" else view.address,
                view.number,
                front.title,
                front.revision,
                self.equipment(view.equipment.title),
                self.task(task_word(view)),
                [words for pair in said for words in pair],
                list(dict.fromkeys([*stock, *codes])),
                [self.texts(row.name) for row in view.kit if row.kind == "part"],
                [self.texts(row.name) for row in view.kit if row.kind == "tool"],
                self._titles(view),
                list(self._values(view)),
            ]
        )

    def _machine(self, profile: Document) -> list[Any]:
        front = profile.profile
        numbers = [t.stock_number for t in (*front.parts, *front.tools) if t.stock_number]
        equipment, task = self.equipment(front.title), self.task(word("task.equipment"))
        address = equipment_address(front.id)
        return _trimmed([address, "", front.title, "", equipment, task, [], numbers])

    def _titles(self, view: DocumentView) -> list[list[int]]:
        """Steps of the document's own stages, which are numbered 1, 2, 3; the machine's are on its own page."""
        own = [stage for stage in view.stages if not stage.borrowed]
        return [[self.texts(s.step.title) for s in stage.steps] for stage in own] if self.steps else []

    def _values(self, view: DocumentView) -> Iterator[str | int]:
        for step in (s for stage in view.stages if not stage.borrowed for s in stage.steps):
            for role in step.step.roles:
                entry = _value(*parts_of(role)) if role.name in ("torque", "set", "read") else None
                if entry is not None:
                    yield step.number
                    yield self.values(entry)


@lru_cache(maxsize=8192)
def _value(name: str, text: str) -> tuple[Any, ...] | None:
    """A value as VALUE says; None for what is no quantity."""
    quantity, shown = read(text), read(other_words(text, name))
    if quantity is None:
        return None
    found: list[Any] = [text]
    for each in (quantity, shown):
        if each is not None:
            found += [each.unit.symbol, *(_number(n) for n in (each.nominal, each.low, each.high))]
    return tuple(found)


def _number(value: Any) -> float | int | None:
    if value is None:
        return None
    return int(value) if value == int(value) else float(value)


def _units(symbols: set[str]) -> Iterator[tuple[str, list[Any]]]:
    """Every spelling of the units that measure what this library's values measure, as UNIT says."""
    wanted = {UNITS[s].dimension for s in symbols}
    for spelling, unit in spellings().items():
        if unit.dimension in wanted:
            imperial = int(unit.symbol in _IMPERIAL)
            yield spelling, [unit.symbol, unit.dimension, float(unit.factor), float(unit.offset), imperial]


def _trimmed(row: list[Any]) -> list[Any]:
    while row and row[-1] in ("", []):
        row.pop()
    return row
