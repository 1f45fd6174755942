"""The options of a figure: which there are, and the areas, movements and lengths that they name."""

from __future__ import annotations

import re

from kilter.model.text import Area, Detail, Motion, MotionKind, Scale
from kilter.read.notes import Notes
from kilter.source import Span

FIGURE_OPTIONS = ("id", "alt", "looked", "crop", "cover", "detail", "motion", "scale", "after")
MANY_OPTIONS = ("cover", "detail", "motion")
"""Options that may stand more than once."""
OF_THE_PAIR = ("id", "after")
"""Options that a figure has once, also when it shows two pictures."""
PLACES = ("upper left", "upper right", "lower left", "lower right")
LEAST_TIMES, MOST_TIMES = 1.5, 8.0
"""Below, a detail is no larger to the eye; above, hardly a picture has the pixels for it."""
WAYS = ("left", "right", "up", "down", "upper left", "upper right", "lower left", "lower right")
_KINDS: dict[str, MotionKind] = {"turn": "turn", "push": "push", "pull": "pull", "slide": "slide"}
MOST_WORDS = 16
"""Characters of how far a movement goes."""
_PLACE = r"(\d{1,6}(?:\.\d{1,3})?)\s*,\s*(\d{1,6}(?:\.\d{1,3})?)"
_MOTION = re.compile(rf"^(turn|push|pull|slide)\s+{_PLACE}\s+({'|'.join(WAYS)})(?:\s+(\S.*))?$")
_SCALE = re.compile(rf"^([^=]*\S)\s*=\s*{_PLACE}\s+{_PLACE}$")
MOTION_HELP = (
    "write turn, push, pull or slide, a place in pixels, the way and, if you like, how far: "
    "`:motion: turn 412,310 left 90°`; ways are " + ", ".join(WAYS)
)
SCALE_HELP = (
    "write the length, then the two places in pixels between which it lies: `:scale: 50 mm = 412,310 612,310`"
)
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


def motion_in(notes: Notes, value: str, span: Span) -> Motion | None:
    """A `:motion:`; what can't be read is told."""
    match = _MOTION.match(value)
    if match is None:
        notes.error("bad-value", "`:motion:` can't be read", span, MOTION_HELP)
        return None
    kind, x, y, way, amount = match.groups(default="")
    if kind == "turn" and way not in ("left", "right"):
        help = "write `left` against the clock or `right` with it, as seen in the picture"
        notes.error("bad-value", f"a turn is left or right, not {way}", span, help)
        return None
    if len(amount) > MOST_WORDS:
        message = f"how far a movement goes takes {len(amount)} characters, the most is {MOST_WORDS}"
        notes.error(
            "bad-value", message, span, "write a value, such as `90°` or `12 mm`; the rest is a caption"
        )
        return None
    return Motion(kind=_KINDS[kind], x=float(x), y=float(y), way=way, amount=amount, span=span)


def scale_in(notes: Notes, value: str, span: Span) -> Scale | None:
    """A `:scale:`; what can't be read is told."""
    match = _SCALE.match(value)
    if match is None:
        notes.error("bad-value", "`:scale:` can't be read", span, SCALE_HELP)
        return None
    x1, y1, x2, y2 = (float(n) for n in match.groups()[1:])
    if (x1, y1) == (x2, y2):
        notes.error("bad-value", "`:scale:` names one place twice", span, SCALE_HELP)
        return None
    return Scale(length=match[1].strip(), start=(x1, y1), end=(x2, y2), span=span)


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
