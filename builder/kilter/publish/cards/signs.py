"""Small drawings of a card: QR code, warning triangle, DRAFT mark. All are outlines, none is text."""

from __future__ import annotations

import io
from functools import lru_cache

import segno

TRIANGLE = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 90">'
    '<path d="M50 5 L95 85 L5 85 Z" fill="#f9a900" stroke="#000" stroke-width="9" stroke-linejoin="round"/>'
    '<path d="M44 33 L56 33 L53.2 61 L46.8 61 Z" fill="#000"/><circle cx="50" cy="71" r="5.6"/></svg>'
)
"""A general warning sign of our own drawing, in the manner of ISO 7010."""

_LETTERS = {
    "D": "M0 0 H26 Q58 0 58 45 T26 90 H0 Z",
    "R": "M0 90 V0 H30 Q56 0 56 24 T30 48 H0 M28 48 L58 90",
    "A": "M0 90 L30 0 L60 90 M11 60 H49",
    "F": "M0 90 V0 H52 M0 44 H42",
    "T": "M0 0 H60 M30 0 V90",
}


@lru_cache(maxsize=256)
def qr_code(text: str) -> str:
    """SVG of a QR code with a quarter of redundancy and the quiet zone of four modules."""
    stream = io.BytesIO()
    segno.make_qr(text, error="q", boost_error=False).save(
        stream,
        kind="svg",
        border=4,
        light="white",
        xmldecl=False,
        omitsize=True,
        svgclass=None,
        lineclass=None,
    )
    return stream.getvalue().decode("utf-8")


def draft_mark(width: int, height: int) -> str:
    """The word DRAFT across a sheet of `width` x `height` mm as strokes: as text it would mix into what is read."""
    parts = []
    for n, letter in enumerate("DRAFT"):
        parts.append(f'<path transform="translate({n * 84 - 198} -45)" d="{_LETTERS[letter]}"/>')
    share = 0.5 if height > 1.6 * width else 0.62 if height > width else 0.44
    size = (width * width + height * height) ** 0.5 * share / 400
    turn = f"translate({width / 2} {height / 2}) rotate({-54 if height > width else -32}) scale({size:.3f})"
    style = 'fill="none" stroke="#dcdcdc" stroke-width="8" stroke-linejoin="miter"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}">'
        f'<g transform="{turn}" {style}>{"".join(parts)}</g></svg>'
    )
