"""The marks that every drawing is made of, as SVG.

Ink only: `currentColor`, no grey and no colour, so that a drawing follows the page's light or dark and survives a
grey printer and a copier. No style attribute, no id, no script: any page and any card may hold any number of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

WIDTH = 320.0
"""Of every drawing; on a phone of 360 px one unit is about one pixel."""
SIZE = 17.0
"""Of the letters."""
LINE = 22.0
"""From one row of letters to the next."""

_WIDE = frozenset("%mMwW@&")
_SIGNS = frozenset("±−≥≤°×²³µ–+=<>äöüßéèáàåóòñç")
_NARROW = frozenset(" .,:;'|!()[]{}ijltfr/-·’‘")


def width_of(words: str, size: float = SIZE) -> float:
    """At least as wide as the words are in the cards' typeface, bold, or in a common sans."""
    return size * sum(_width(c) for c in words)


def _width(c: str) -> float:
    if c in _WIDE:
        return 1.0
    if c in _NARROW:
        return 0.45
    if c in _SIGNS or (c.isascii() and (c.isdigit() or c.islower())):
        return 0.67
    return 0.8 if c.isascii() else 1.45


def wrapped(words: str, room: float, size: float = SIZE) -> list[str]:
    """Rows that fit into the room; a word that is wider than a row is parted."""
    rows = [""]
    for word in words.split():
        if rows[-1] and width_of(f"{rows[-1]} {word}", size) > room:
            rows.append("")
        rows[-1] = f"{rows[-1]} {word}".strip()
        while width_of(rows[-1], size) > room:
            fits = _fitting(rows[-1], room, size)
            rows[-1:] = [rows[-1][:fits], rows[-1][fits:]]
    return rows


def _fitting(word: str, room: float, size: float) -> int:
    count = len(word)
    while count > 1 and width_of(word[:count], size) > room:
        count -= 1
    return count


def number(value: float) -> str:
    """A place in the drawing, to a twentieth of a unit or better."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if abs(value) >= 0.005 else "0"


def words(
    x: float, y: float, said: str, anchor: str = "start", bold: bool = False, size: float = SIZE
) -> str:
    """Letters on a base line."""
    weight = ' font-weight="700"' if bold else ""
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size)}" text-anchor="{anchor}"{weight} '
        f'fill="currentColor">{escape(said, quote=False)}</text>'
    )


def line(x1: float, y1: float, x2: float, y2: float, width: float = 1.5, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="4 3"' if dashed else ""
    places = f'x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"'
    return f'<line {places} stroke="currentColor" stroke-width="{number(width)}"{dash}/>'


def path(
    points: Sequence[tuple[float, float]], width: float = 2, filled: bool = False, shut: bool = False
) -> str:
    places = " ".join(f"{number(x)} {number(y)}" for x, y in points)
    fill = "currentColor" if filled else "none"
    return (
        f'<path d="M{places}{"z" if shut else ""}" fill="{fill}" stroke="currentColor" '
        f'stroke-width="{number(width)}" stroke-linejoin="round"/>'
    )


def box(x: float, y: float, width: float, height: float, filled: bool = False, stroke: float = 1.5) -> str:
    fill = "currentColor" if filled else "none"
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}" '
        f'fill="{fill}" stroke="currentColor" stroke-width="{number(stroke)}"/>'
    )


def ring(x: float, y: float, r: float) -> str:
    return (
        f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(r)}" fill="none" stroke="currentColor" '
        'stroke-width="1.8"/>'
    )


def hatched(x: float, y: float, width: float, height: float, pitch: float = 6) -> str:
    """A box with strokes across: told from an empty and a full one without any colour."""
    strokes = []
    for n in range(1, int((width + height) / pitch) + 1):
        along = n * pitch
        low, high = max(0.0, along - height), min(along, width)
        if high > low:
            strokes.append(
                f"M{number(x + low)} {number(y + along - low)} {number(x + high)} {number(y + along - high)}"
            )
    inside = f'<path d="{"".join(strokes)}" stroke="currentColor" stroke-width="1"/>' if strokes else ""
    return inside + box(x, y, width, height)


def diamond(x: float, y: float, size: float = 6, filled: bool = True) -> str:
    return path([(x, y - size), (x + size, y), (x, y + size), (x - size, y)], 1.5, filled, shut=True)


@dataclass(frozen=True, slots=True)
class Picture:
    """A finished drawing."""

    svg: str
    said: str
    """What it says, for those who do not see it."""
    height: float
    """For a width of WIDTH."""


def drawing(height: float, said: str, *marks: str) -> Picture:
    """The whole picture of so many units."""
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 {number(WIDTH)} {number(height)}" '
        f'width="{number(WIDTH)}" height="{number(height)}" role="img" aria-label="{escape(said)}" '
        f'font-family="Atkinson Hyperlegible">{"".join(marks)}</svg>'
    )
    return Picture(svg, said, height)
