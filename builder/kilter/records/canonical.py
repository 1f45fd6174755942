"""Canonical JSON and the digest over it; `site/app/canonical.js` writes the same bytes."""

from __future__ import annotations

import hashlib
import json
import unicodedata
from collections.abc import Mapping, Sequence
from typing import Any

from kilter.model.record import Receipt, Record


def canonical(value: Any) -> str:
    """Keys sorted, no blanks, every scalar a string in NFC. Raises TypeError for any other scalar."""
    if isinstance(value, str):
        return json.dumps(unicodedata.normalize("NFC", value), ensure_ascii=False)
    if isinstance(value, Mapping):
        pairs = (f"{json.dumps(key)}:{canonical(value[key])}" for key in sorted(value))
        return "{" + ",".join(pairs) + "}"
    if isinstance(value, Sequence):
        return "[" + ",".join(map(canonical, value)) + "]"
    raise TypeError(f"a record holds strings only, not {type(value).__name__}")


def digest_of(data: Mapping[str, Any]) -> str:
    """SHA-256 over everything but the digest itself, 64 hex digits."""
    rest = {key: value for key, value in data.items() if key != "digest"}
    return hashlib.sha256(canonical(rest).encode("utf-8", "surrogatepass")).hexdigest()


def plain(value: Record | Receipt) -> dict[str, Any]:
    """As it stands in JSON."""
    return value.model_dump(by_alias=True)


def written(value: Record | Receipt) -> bytes:
    """The bytes of its file."""
    return (canonical(plain(value)) + "\n").encode()
