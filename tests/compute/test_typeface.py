"""The table of the typeface against the files of the typeface."""

from __future__ import annotations

import struct
import unicodedata

import pytest

from kilter.compute.typeface import DRAWN, TABLE, missing, named
from kilter.publish.cards.glyphs import font_folder


def in_table() -> set[int]:
    ends = [[int(code, 16) for code in part.split("-")] for part in TABLE.split()]
    return {code for first, *last in ends for code in range(first, (last or [first])[0] + 1)}


def in_files() -> set[int]:
    """Code points that every file has, without the line end that some give an empty shape."""
    files = sorted(font_folder().glob("*.ttf"))
    assert len(files) == 4
    return set.intersection(*(cmap(file.read_bytes()) for file in files)) - {0x0D}


def cmap(font: bytes) -> set[int]:
    """Code points of a TrueType font's Unicode table of format 4 (OpenType specification, table `cmap`)."""
    base = table(font, b"cmap")
    count = struct.unpack_from(">H", font, base + 2)[0]
    offsets = (base + struct.unpack_from(">I", font, base + 8 + 8 * n)[0] for n in range(count))
    return set(segments(font, next(o for o in offsets if struct.unpack_from(">H", font, o)[0] == 4)))


def table(font: bytes, tag: bytes) -> int:
    count = struct.unpack_from(">H", font, 4)[0]
    entries = (struct.unpack_from(">4sIII", font, 12 + 16 * n) for n in range(count))
    return next(int(offset) for name, _, offset, _ in entries if name == tag)


def segments(font: bytes, at: int) -> list[int]:
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


def test_the_table_is_that_of_the_files() -> None:
    assert in_table() == in_files()


def test_every_character_passes_if_the_files_have_it_or_if_it_is_silent() -> None:
    """All of the basic plane and a few beyond, one by one."""
    known = in_files()
    wrong = []
    for code in [*range(0x20, 0xD800), *range(0xE000, 0x10000), 0x1F527, 0x1D7D8]:
        sign = unicodedata.normalize("NFC", chr(code))
        silent = unicodedata.category(chr(code)) == "Zs" or code in (0xAD, 0x200C, 0x200D)
        fine = all(ord(c) in known or c in DRAWN for c in sign) or silent
        if (not missing(chr(code))) != fine:
            wrong.append(f"{code:04X}")
    assert wrong == []


@pytest.mark.parametrize("text", ["", "22 ± 2 N·m\n\t5 Ω", "e\u0301", DRAWN, "a\u202fb\u00adc"])
def test_what_passes(text: str) -> None:
    assert missing(text) == []


def test_each_missing_character_once_in_order_with_its_name() -> None:
    assert missing("№ 4 ⌀ №") == ["№", "⌀"]
    assert named("№") == "№ (U+2116 NUMERO SIGN)"
