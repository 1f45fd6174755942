"""What the search knows: one small record a document, made from the model.

`ROW` and `VALUE` say what stands where; `recordfiles.py` makes files of the rows. The phone makes its index from
them: `assets/search-engine.js`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

from kilter.compute.units import UNITS, spellings
from kilter.model.document import Document
from kilter.model.front import ProcedureFront
from kilter.publish.site.terms import task_word
from kilter.publish.site.words import word
from kilter.publish.values import other_words, parts_of, read
from kilter.publish.view import DocumentView, equipment_address

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


def records_of(views: Iterable[DocumentView], profiles: Iterable[Document]) -> list[list[Any]]:
    """A row as ROW says for each document, then for each machine; texts and values stand in it as they are."""
    return [*map(_document, views), *map(_machine, profiles)]


def _document(view: DocumentView) -> list[Any]:
    front = view.front
    symptoms = front.symptoms if isinstance(front, ProcedureFront) else ()
    said = [(s.symptom, ", ".join(s.also)) for s in symptoms]
    stock = [row.stock for row in view.kit if row.stock]
    codes = [code for pair in said for words in pair for code in _CODE.findall(words)]
    return [
        "" if view.address == f"{view.number.lower()}.html" else view.address,
        view.number,
        front.title,
        front.revision,
        view.equipment.title,
        task_word(view),
        [words for pair in said for words in pair],
        list(dict.fromkeys([*stock, *codes])),
        [row.name for row in view.kit if row.kind == "part"],
        [row.name for row in view.kit if row.kind == "tool"],
        _titles(view),
        list(_values(view)),
    ]


def _machine(profile: Document) -> list[Any]:
    front = profile.profile
    numbers = [t.stock_number for t in (*front.parts, *front.tools) if t.stock_number]
    address, task = equipment_address(front.id), word("task.equipment")
    return [address, "", front.title, "", front.title, task, [], numbers, [], [], [], []]


def _titles(view: DocumentView) -> list[list[str]]:
    """Steps of the document's own stages, which are numbered 1, 2, 3; the machine's are on its own page."""
    return [[s.step.title for s in stage.steps] for stage in view.stages if not stage.borrowed]


def _values(view: DocumentView) -> Iterator[Any]:
    for step in (s for stage in view.stages if not stage.borrowed for s in stage.steps):
        for role in step.step.roles:
            entry = _value(*parts_of(role)) if role.name in ("torque", "set", "read") else None
            if entry is not None:
                yield step.number
                yield entry


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


def units_for(values: Iterable[tuple[Any, ...]]) -> Iterator[tuple[str, list[Any]]]:
    """Every spelling of the units that measure what these values measure, as UNIT says."""
    wanted = {UNITS[s].dimension for s in {unit for v in values for unit in (v[1], *v[5:6])}}
    for spelling, unit in spellings().items():
        if unit.dimension in wanted:
            imperial = int(unit.symbol in _IMPERIAL)
            yield spelling, [unit.symbol, unit.dimension, float(unit.factor), float(unit.offset), imperial]
