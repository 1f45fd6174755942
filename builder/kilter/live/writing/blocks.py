"""Pasted plain text, cut into what its writer meant: headings, steps, warnings, lists, tables."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from kilter.live.writing.plain import tidied

Kind = Literal["heading", "step", "item", "words", "panel", "table"]


@dataclass(frozen=True)
class Block:
    """One piece of pasted text; `text` is bare words, or Markdown where `ready` says so."""

    kind: Kind
    text: str
    level: int = 2
    """Of a heading, 1 is the title; of an item how deep it stands."""
    label: str = ""
    """The number that a step or item had, or the signal word of a panel."""
    ready: bool = False
    rows: tuple[tuple[str, ...], ...] = ()
    """Cells of a table."""


_SIGNAL = re.compile(
    r"(?i)^[!⚠\s*]*(danger|warning|caution|notice|note|attention)\b[!:.\s*–—-]*(?=\s|$|(?<=[:!–—-]))(.*)$"
)
_STEP = re.compile(r"(?i)^step\s+(\d+(?:\.\d+)*[a-z]?)\b\s*[-–—:.)]*\s*(.*)$")
_NUMBERED = re.compile(r"^\(?(\d{1,3}(?:\.\d{1,3})*)[.):]*[\s.):]\s*(\S.*)$")
_LETTERED = re.compile(r"^\(?([a-z]|[ivx]{1,4})[.)]\s+(\S.*)$")
_BULLET = re.compile(r"^[-*•·‣▪◦●○■□➢►–—\uf0b7\uf0a7o]\s+(\S.*)$")
_HASHES = re.compile(r"^(#{1,4})\s+(\S.*)$")
_WORDS = {"note": "notice", "attention": "caution"}


def blocks_of_plain(text: str) -> list[Block]:
    """Blocks of plain text; a row that begins nothing of its own carries on what stands above it."""
    found: list[Block] = []
    fresh = True
    for rows in _grouped(tidied(text).split("\n")):
        if len(rows) > 1:
            found.append(
                Block("table", "", rows=tuple(tuple(c.strip() for c in r.split("\t")) for r in rows))
            )
            fresh = True
            continue
        row = " ".join(rows[0].split())
        block = _block(row, rows[0])
        if not row:
            fresh = True
        elif block is None and not fresh and found and found[-1].kind not in ("heading", "table"):
            found[-1] = replace(found[-1], text=f"{found[-1].text}\n{row}".strip())
        else:
            found.append(block or Block("words", row))
            fresh = False
    return _titled(found)


def _grouped(rows: list[str]) -> Iterator[list[str]]:
    """Rows one by one, but neighbouring rows with the same number of inner tabs together: a table."""
    at = 0
    while at < len(rows):
        end = at + 1
        while end < len(rows) and _tabs(rows[at]) and _tabs(rows[end]) == _tabs(rows[at]):
            end += 1
        yield rows[at:end]
        at = end


def _tabs(row: str) -> int:
    """Tabs between words; none where the row begins as a list does, for there a tab is only space."""
    flat = row.strip()
    return 0 if _BULLET.match(flat) or _NUMBERED.match(flat) or _LETTERED.match(flat) else flat.count("\t")


def _block(row: str, raw: str) -> Block | None:
    """What a row begins; None for plain words."""
    depth = 2 if raw[:1] in (" ", "\t") else 1
    if match := _HASHES.match(row):
        return Block("heading", match[2], level=len(match[1]))
    if (match := _SIGNAL.match(row)) and _is_panel(row, match):
        word, said = match[1].lower(), match[2].strip()
        own = f"{match[1].capitalize()}: {said}" if word in _WORDS else said
        return Block("panel", own, label=_WORDS.get(word, word))
    if match := _STEP.match(row):
        return Block("step", match[2], label=match[1])
    if match := _NUMBERED.match(row):
        if _shouted(match[2]):
            return Block("heading", row)
        return Block("step", match[2], label=match[1]) if depth == 1 else Block("item", row, level=2)
    if match := _BULLET.match(row):
        return Block("item", match[1], level=depth)
    if _LETTERED.match(row):
        return Block("item", row, level=depth)
    return Block("heading", row) if _shouted(row) else None


def _is_panel(row: str, match: re.Match[str]) -> bool:
    """`Warning: ...`, `WARNING ...` and `WARNING` alone; not "Note the reading"."""
    after = row[match.end(1) : match.end(1) + 2].lstrip(" *")
    return match[1].isupper() or after[:1] in (":", "!", "–", "—", "-")


def _shouted(row: str) -> bool:
    """A heading in capitals."""
    letters = [c for c in row if c.isalpha()]
    return (
        len(letters) > 2
        and row.upper() == row
        and row.lower() != row
        and len(row) <= 80
        and row[-1] not in ".;,"
    )


def _titled(found: list[Block]) -> list[Block]:
    """The first block is the title if it is a short line above everything else."""
    if len(found) < 2 or found[0].kind not in ("words", "heading"):
        return found
    first = found[0]
    short = "\n" not in first.text and len(first.text) <= 90 and first.text[-1] not in ".:;,!?"
    if not short or (first.kind == "heading" and found[1].kind == "step"):
        return found
    return [replace(first, kind="heading", level=1), *found[1:]]
