"""The options of a figure: which there are, and the areas that they name."""

from __future__ import annotations

import re

from kilter.model.text import Area, Detail
from kilter.read.notes import Notes
from kilter.source import Span

FIGURE_OPTIONS = ("id", "alt", "looked", "crop", "cover", "detail")
MANY_OPTIONS = ("cover", "detail")
"""Options that may stand more than once."""
PLACES = ("upper left", "upper right", "lower left", "lower right")
LEAST_TIMES, MOST_TIMES = 1.5, 8.0
"""Below, a detail is no larger to the eye; above, hardly a picture has the pixels for it."""
_AREA = re.compile(r"^(\d{1,6})\s*,\s*(\d{1,6})\s*,\s*(\d{1,6})\s*,\s*(\d{1,6})(?:\s+(.*))?$")
_DETAIL = re.compile(r"^(upper|lower)\s+(left|right)\s*,\s*(\d{1,2}(?:\.\d{1,2})?)\s+times$")


def area_in(notes: Notes, name: str, value: str, span: Span) -> Area | None:
    """The area of a `:crop:` or `:cover:`; what can't be read is told."""
    found, rest = _split(notes, name, value, span)
    if found is not None and rest:
        notes.error("bad-value", f"`:{name}:` has words behind its four numbers: `{rest}`", span, _help(name))
        return None
    return found


def detail_in(notes: Notes, value: str, span: Span) -> Detail | None:
    """A `:detail:` with its corner and its size; what can't be read is told."""
    found, rest = _split(notes, "detail", value, span)
    if found is None:
        return None
    match = _DETAIL.match(rest)
    if match is None:
        notes.error(
            "bad-value", "`:detail:` does not say in which corner and how large", span, _help("detail")
        )
        return None
    times = float(match[3])
    if not LEAST_TIMES <= times <= MOST_TIMES:
        message = f"a detail is shown {LEAST_TIMES:g} to {MOST_TIMES:g} times as large, not {times:g}"
        notes.error("bad-value", message, span, _help("detail"))
        return None
    return Detail(area=found, place=f"{match[1]} {match[2]}", times=times)


def _split(notes: Notes, name: str, value: str, span: Span) -> tuple[Area | None, str]:
    match = _AREA.match(value)
    if match is None:
        notes.error("bad-value", f"`:{name}:` can't be read", span, _help(name))
        return None, ""
    x, y, width, height = (int(n) for n in match.groups()[:4])
    if not width or not height:
        notes.error("bad-value", f"`:{name}:` names an area without width or height", span, _help(name))
        return None, ""
    return Area(x=x, y=y, width=width, height=height, span=span), (match[5] or "").strip()


def _help(name: str) -> str:
    more = " upper right, 3 times" if name == "detail" else ""
    return (
        "write left edge, upper edge, width and height in pixels of the upright picture"
        + (", then a corner and how many times as large" if more else "")
        + f": `:{name}: 610,240,120,90{more}`"
    )
