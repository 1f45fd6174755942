"""Figure blocks of the documents, held to the places of the scenes; plain text, no model is needed."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

Anchors = dict[str, dict[str, Any]]
_BEGIN = re.compile(r"^:::\{figure\} (\S+)\s*$")
_AFTER = re.compile(r"^:after: (\S+)\s*$")
_ITEM = re.compile(r"^:(\d+): (\S+) (.+?)\s*$")
_MOTION = re.compile(r"^:motion: ")
_SCALE = re.compile(r"^:scale: (.+?) = .+$")


def synced(text: str, folder: str, anchors: Anchors) -> str:
    """The document with the places that the scenes give; `folder` is the document's, below the library.

    Raises ValueError for an item that its picture does not name.
    """
    out: list[str] = []
    facts: dict[str, Any] | None = None
    moved = 0
    for line in text.split("\n"):
        if match := _BEGIN.match(line) or _AFTER.match(line):
            facts, moved = anchors.get(f"{folder}/{match[1]}"), 0
        elif line.startswith(":::"):
            facts = None
        elif facts is not None and (match := _ITEM.match(line)):
            if match[3] not in facts["items"]:
                raise ValueError(f"{folder}: no part `{match[3]}` in the picture of `{line}`")
            x, y = facts["items"][match[3]]
            line = f":{match[1]}: {x},{y} {match[3]}"
        elif facts is not None and _MOTION.match(line):
            line, moved = f":motion: {facts['motions'][moved]}", moved + 1
        elif facts is not None and (match := _SCALE.match(line)):
            (x1, y1), (x2, y2) = facts["scale"]
            line = f":scale: {match[1]} = {x1},{y1} {x2},{y2}"
        out.append(line)
    return "\n".join(out)


def documents(library: Path) -> list[Path]:
    """All documents of the library."""
    return sorted(p for p in library.rglob("*.md"))


def numbers(text: str) -> list[tuple[int, str]]:
    """All numbered items of a document's figures, in order."""
    found, inside = [], False
    for line in text.split("\n"):
        if _BEGIN.match(line):
            inside = True
        elif line.startswith(":::"):
            inside = False
        elif inside and (match := _ITEM.match(line)):
            found.append((int(match[1]), match[3]))
    return found
