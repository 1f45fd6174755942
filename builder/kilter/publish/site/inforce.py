"""What is in force, as phones ask for it: one list, or one a machine where a page would wait for the whole library.

Every page of a document asks each time it opens. For ten thousand documents one list is 460 kB packed, because
hashes do not pack; so above MOST the list only names the machines, and a page asks for that of its own.
"""

from __future__ import annotations

import gzip
import json
from collections.abc import Iterable
from typing import Any

from kilter.publish.view import DocumentView

REVISIONS, FOLDER = "revisions.json", "revisions"
SCHEMA, SPLIT_SCHEMA = "kilter-revisions-1", "kilter-revisions-split-1"
MOST = 20_000
"""Bytes of the one list after gzip."""


def revisions_files(views: Iterable[DocumentView], most: int | None = None) -> dict[str, bytes]:
    """The documents in force by address of the list. What a list lacks is withdrawn."""
    shown = list(views)
    whole = _list(shown)
    if len(gzip.compress(whole)) <= (MOST if most is None else most):
        return {REVISIONS: whole}
    machines = sorted({v.equipment.id for v in shown})
    found = {REVISIONS: _json({"schema": SPLIT_SCHEMA, "machines": machines})}
    for id in machines:
        found[f"{FOLDER}/{id}.json"] = _list(v for v in shown if v.equipment.id == id)
    return found


def _list(views: Iterable[DocumentView]) -> bytes:
    """Number to revision, content hash and page."""
    documents = {v.number: {"revision": v.front.revision, "hash": v.hash, "page": v.address} for v in views}
    return _json({"schema": SCHEMA, "documents": documents})


def _json(value: Any) -> bytes:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode()
