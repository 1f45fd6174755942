"""What all values of the model share."""

from __future__ import annotations

import unicodedata
from functools import lru_cache

from pydantic import BaseModel, ConfigDict


class Value(BaseModel):
    """A frozen value; two with the same content are equal."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)


@lru_cache(maxsize=65_536)
def fold(name: str) -> str:
    """The form in which names are compared: without case, NFC, single blanks."""
    return " ".join(unicodedata.normalize("NFC", name).casefold().split())


@lru_cache(maxsize=65_536)
def slugify(title: str) -> str:
    """The anchor of a heading: lower case, NFC; letters and digits of any script stay, blanks become hyphens."""
    text = unicodedata.normalize("NFC", title).lower()
    kept = "".join(c if c.isalnum() or c in "-_" else " " if c.isspace() else "" for c in text)
    return "-".join(kept.split())
