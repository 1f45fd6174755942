"""What the search knows: one small record a document, made from the model."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from typing import Any

from kilter.model.document import Document
from kilter.model.front import ProcedureFront
from kilter.publish.site.terms import task_word
from kilter.publish.site.words import word
from kilter.publish.view import DocumentView, equipment_address

ADDRESS = "records.json"
_CODE = re.compile(r"\b(?=[\w-]*\d)(?=[\w-]*[A-Za-z])\w[\w-]*\b")
"""A word with letters and digits: an error code, a fuse, a jack."""


def records_file(views: Iterable[DocumentView], profiles: Iterable[Document]) -> bytes:
    """JSON with sorted keys and nothing empty, so that the same library gives the same bytes."""
    records = [*map(_document, views), *map(_machine, profiles)]
    kept = [{k: v for k, v in record.items() if v} for record in records]
    return (json.dumps(kept, ensure_ascii=False, sort_keys=True, separators=(",", ":")) + "\n").encode()


def _document(view: DocumentView) -> dict[str, Any]:
    front = view.front
    symptoms = front.symptoms if isinstance(front, ProcedureFront) else ()
    said = [s.symptom for s in symptoms]
    also = [", ".join(s.also) for s in symptoms]
    stock = [row.stock for row in view.kit if row.stock]
    codes = [code for words in (*said, *also) for code in _CODE.findall(words)]
    return {
        "address": view.address,
        "number": view.number,
        "title": front.title,
        "revision": front.revision,
        "equipment": view.equipment.title,
        "task": task_word(view),
        "symptoms": said,
        "synonyms": also if any(also) else [],
        "numbers": list(dict.fromkeys([*stock, *codes])),
        "parts": [row.name for row in view.kit if row.kind == "part"],
        "tools": [row.name for row in view.kit if row.kind == "tool"],
    }


def _machine(profile: Document) -> dict[str, Any]:
    front = profile.profile
    return {
        "address": equipment_address(front.id),
        "title": front.title,
        "equipment": front.title,
        "task": word("task.equipment"),
        "numbers": [t.stock_number for t in (*front.parts, *front.tools) if t.stock_number],
    }
