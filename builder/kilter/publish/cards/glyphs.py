"""Which characters the font of the cards has."""

from __future__ import annotations

import struct
import unicodedata
from functools import lru_cache
from pathlib import Path

import fontpkg

FAMILY = "Atkinson Hyperlegible"
DRAWN = "→✓☐"
"""Signs that the font lacks and the templates draw."""


@lru_cache(maxsize=1)
def font_folder() -> Path:
    """Where the font's files stand."""
    return Path(fontpkg.path(FAMILY.lower().replace(" ", "-"))).parent


@lru_cache(maxsize=1)
def known() -> frozenset[int]:
    """Code points that all four files of the font have."""
    tables = [_cmap(file.read_bytes()) for file in sorted(font_folder().glob("*.ttf"))]
    return frozenset.intersection(*tables)


def missing(text: str) -> list[str]:
    """Characters of a text that can't be printed, each once, in order."""
    found = (c for c in unicodedata.normalize("NFC", text) if ord(c) not in known() and not _silent(c))
    return [c for c in dict.fromkeys(found) if c not in DRAWN]


def named(character: str) -> str:
    """`№ (U+2116 NUMERO SIGN)`."""
    name = unicodedata.name(character, "no name")
    return f"{character} (U+{ord(character):04X} {name})"


def _silent(character: str) -> bool:
    """Blanks and signs that only steer: they need no glyph."""
    return unicodedata.category(character) in ("Zs", "Cc") or character in "\u00ad\u200c\u200d"


def _cmap(font: bytes) -> frozenset[int]:
    """Code points of a TrueType font's Unicode table of format 4 (OpenType specification, table `cmap`)."""
    base = _table(font, b"cmap")
    count = struct.unpack_from(">H", font, base + 2)[0]
    for n in range(count):
        offset = base + struct.unpack_from(">I", font, base + 4 + 8 * n + 4)[0]
        if struct.unpack_from(">H", font, offset)[0] == 4:
            return frozenset(_segments(font, offset))
    raise ValueError("font has no character table of format 4")


def _table(font: bytes, tag: bytes) -> int:
    count = struct.unpack_from(">H", font, 4)[0]
    for n in range(count):
        name, _, offset, _ = struct.unpack_from(">4sIII", font, 12 + 16 * n)
        if name == tag:
            return int(offset)
    raise ValueError(f"font has no table {tag!r}")


def _segments(font: bytes, at: int) -> list[int]:
    double = struct.unpack_from(">H", font, at + 6)[0]
    size = f">{double // 2}H"
    ends = struct.unpack_from(size, font, at + 14)
    starts, deltas, ranges = (struct.unpack_from(size, font, at + 16 + double * n) for n in (1, 2, 3))
    found = []
    for n, (start, end, delta, shift) in enumerate(zip(starts, ends, deltas, ranges, strict=True)):
        for code in range(start, min(end, 0xFFFE) + 1):
            glyph = code
            if shift:
                place = at + 16 + double * 3 + 2 * n + shift + 2 * (code - start)
                glyph = struct.unpack_from(">H", font, place)[0]
            if (glyph + (delta if glyph or not shift else 0)) & 0xFFFF:
                found.append(code)
    return found
