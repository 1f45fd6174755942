"""What a file that is no picture known here looks like by its first bytes, and what to do about it."""

from __future__ import annotations

_SIGNS = {
    b"GIF8": "a GIF",
    b"%PDF": "a PDF",
    b"BM": "a BMP",
    b"II*\x00": "a TIFF",
    b"MM\x00*": "a TIFF",
    b"%!PS": "a PostScript file",
    b"<svg": "an SVG",
    b"<?xml": "an SVG",
}
_HEIC = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1")
"""Brands of HEIF files (ISO/IEC 23008-12, annex B)."""
_HEIC_HELP = (
    "set the telephone's camera to JPEG (often called most compatible), or save the photograph as JPEG there"
)


def _brand(data: bytes) -> bytes:
    return data[8:12] if data[4:8] == b"ftyp" else b""


def looks_like(data: bytes) -> str:
    """For the message: a clause with what it looks like, or nothing."""
    brand = _brand(data)
    if brand in _HEIC:
        return " known here (it looks like a HEIC)"
    if brand:
        return " known here (it looks like an AVIF or a film)"
    sign = next((name for start, name in _SIGNS.items() if data.lstrip().startswith(start)), None)
    if sign is None and _is_text(data):
        return ": it holds words"
    return f" known here (it looks like {sign})" if sign else ""


def way_out(data: bytes) -> str:
    """What to do with it."""
    return _HEIC_HELP if _brand(data) in _HEIC else "save it as PNG, JPEG or WebP"


def _is_text(data: bytes) -> bool:
    head = data[:2000]
    return bool(head.strip()) and not any(b < 9 or 13 < b < 32 for b in head)
