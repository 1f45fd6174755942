"""Which characters the typeface of the cards can print; kept as a table, because every check asks for it."""

from __future__ import annotations

import re
import unicodedata

DRAWN = "→✓☐"
"""Signs that the typeface lacks and the cards draw."""

TABLE = """
    0020-007E 00A0-0107 010A-0113 0116-011B 011E-0123 0126-0127 012A-012B 012E-012F 0131 0136-0137 013B-013E
    0141-0148 0150-0155 0158-015B 015E-0165 016A-016B 016E-0173 0178-017E 0192 0218-021B 02C6-02C7 02D8-02DD
    0300-0304 0306-0308 030A-030C 0326-0328 0394 03A9 03BC 03C0 2013-2014 2018-201A 201C-201E 2020-2022 2026
    2030 2039-203A 2044 2074 20AC 2113 2122 212E 2202 220F 2211-2212 2215 2219-221A 221E 222B 2248 2260
    2264-2265 25CA
"""
"""Code points that all four files of the typeface have; a test reads the files and compares."""

_SILENT = "\t\n\r\u00ad\u1680\u2000-\u200a\u200c\u200d\u202f\u205f\u3000"
"""Blanks and signs that only steer: they need no shape."""


def _ranges(table: str) -> str:
    """The table as the inside of a character class."""
    return "".join("-".join(f"\\u{code}" for code in part.split("-")) for part in table.split())


_UNKNOWN = re.compile(f"[^{_ranges(TABLE)}{_SILENT}{DRAWN}]")


def missing(text: str) -> list[str]:
    """Characters of a text that can't be printed, each once, in order."""
    if text.isascii() and text.isprintable():
        return []
    return list(dict.fromkeys(_UNKNOWN.findall(unicodedata.normalize("NFC", text))))


def named(character: str) -> str:
    """`№ (U+2116 NUMERO SIGN)`."""
    name = unicodedata.name(character, "no name")
    return f"{character} (U+{ord(character):04X} {name})"
