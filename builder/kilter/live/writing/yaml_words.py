"""Values as YAML, with quotes where they are needed and only there."""

from __future__ import annotations

import re
from collections.abc import Iterable

_PLAIN = re.compile(r"[^\W_][\w ./()%·'+°±≤≥–−-]*(?<! )")
"""Begins with a letter or digit; no colon, comma, bracket, hash or quotation mark anywhere."""
_MEANS_SOMETHING = frozenset(["null", "true", "false", "yes", "no", "on", "off", "y", "n"])


def word(text: str) -> str:
    """A value, quoted unless every YAML reader takes it for the same plain words."""
    plain = _PLAIN.fullmatch(text) and text.lower() not in _MEANS_SOMETHING
    if plain and (text[0].isalpha() or " " in text):
        return text
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def sentence(text: str) -> str:
    """A value on a line of its own: there a comma needs no quotes."""
    bare = text.replace(", ", " ")
    return text if "," not in bare and word(bare) == bare else word(text)


def listed(texts: Iterable[str]) -> str:
    """A list on one line."""
    return "[" + ", ".join(map(word, texts)) + "]"


def mapping(pairs: Iterable[tuple[str, str]]) -> str:
    """Keys with finished values on one line."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in pairs) + "}"
