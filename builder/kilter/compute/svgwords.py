"""The elements, attributes and values of SVG that a clean drawing may hold.

Source of names and forms: SVG 1.1 (Second Edition), W3C Recommendation of 16 August 2011, and SVG 2 for `href`.
"""

from __future__ import annotations

import re

SHAPES = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")
GRADIENTS = ("linearGradient", "radialGradient")
HOLDS_TEXT = ("text", "tspan")
ELEMENTS = frozenset(
    ("svg", "g", "a", "defs", *SHAPES, *HOLDS_TEXT, *GRADIENTS, "stop", "clipPath", "marker")
)
RENAMED = {"a": "g"}
"""A link in a picture leads nowhere; what it holds is still drawn."""
SHOWS_NOTHING = frozenset(
    ("script", "metadata", "title", "desc", "animate", "animateTransform", "animateMotion", "set", "view")
)
INSTEAD = {
    "use": "let the drawing program write copies out (unlink clones)",
    "image": "a photograph is a figure of its own: `:::{figure} photo.jpg`",
    "foreignObject": "write the words as SVG text, or below the figure",
    "style": "let the drawing program save with presentation attributes, not a style sheet",
    "filter": "take shadows and blurs away",
    "pattern": "draw the hatching as lines",
    "mask": "use a clip path, or draw what is seen",
}

NUMBER = r"[-+]?(?:\d{1,9}(?:\.\d{0,12})?|\.\d{1,12})(?:[eE][-+]?\d{1,2})?"
_LENGTH = rf"{NUMBER}(?:px|pt|pc|mm|cm|in|em|ex|%)?"
_NUMBERS = re.compile(rf"{_LENGTH}(?:(?:\s*,\s*|\s+|(?=[-+])){_LENGTH})*|normal|inherit")
_COLOUR = re.compile(
    r"none|transparent|currentColor|inherit|[a-zA-Z]{3,24}|#[0-9a-fA-F]{3,8}|rgba?\([\d\s.,%]{1,60}\)"
)
_PATH = re.compile(r"[MmLlHhVvCcSsQqTtAaZz0-9eE+\-.,\s]*")
_TRANSFORM = re.compile(
    rf"(?:(?:matrix|translate|scale|rotate|skewX|skewY)\((?:[\s,]*{NUMBER})+\s*\)[\s,]*)*|none"
)
_WORD = re.compile(r"[a-zA-Z][a-zA-Z-]{0,30}(?: [a-zA-Z]{1,20})?|\d00")
_ID = re.compile(r"[A-Za-z_][\w.-]{0,200}")
_FONT = re.compile(r"[\w ,'\"-]{1,200}")

FORMS: dict[str, re.Pattern[str]] = {
    **dict.fromkeys(("fill", "stroke", "color", "stop-color"), _COLOUR),
    **dict.fromkeys(
        ("x", "y", "dx", "dy", "width", "height", "cx", "cy", "r", "rx", "ry", "fx", "fy"), _NUMBERS
    ),
    **dict.fromkeys(("x1", "y1", "x2", "y2", "points", "rotate", "offset", "refX", "refY"), _NUMBERS),
    **dict.fromkeys(("markerWidth", "markerHeight", "viewBox"), _NUMBERS),
    **dict.fromkeys(("stroke-width", "stroke-miterlimit", "stroke-dashoffset", "letter-spacing"), _NUMBERS),
    **dict.fromkeys(("opacity", "fill-opacity", "stroke-opacity", "stop-opacity"), _NUMBERS),
    **dict.fromkeys(("fill-rule", "clip-rule", "stroke-linecap", "stroke-linejoin", "text-anchor"), _WORD),
    **dict.fromkeys(("font-style", "font-weight", "display", "visibility", "dominant-baseline"), _WORD),
    **dict.fromkeys(("gradientUnits", "spreadMethod", "clipPathUnits", "markerUnits"), _WORD),
    **dict.fromkeys(("transform", "gradientTransform"), _TRANSFORM),
    "font-size": re.compile(rf"{_NUMBERS.pattern}|[a-z-]{{5,10}}"),
    "font-family": _FONT,
    "orient": re.compile(rf"auto|auto-start-reverse|{NUMBER}(?:deg)?"),
    "stroke-dasharray": re.compile(rf"none|{_NUMBERS.pattern}"),
    "vector-effect": re.compile(r"none|non-scaling-stroke"),
    "d": _PATH,
    "id": _ID,
    **dict.fromkeys(("clip-path", "marker-start", "marker-mid", "marker-end"), re.compile("none")),
}
"""The form of each attribute's value, where it does not point at another part."""
REFERRING = frozenset(("fill", "stroke", "clip-path", "marker-start", "marker-mid", "marker-end"))
PRESENTATION = frozenset(
    n
    for n in FORMS
    if n in REFERRING
    or n in ("color", "opacity", "display", "visibility")
    or n.startswith(
        ("fill-", "stroke-", "stop-", "font-", "text-", "clip-", "dominant-", "letter-", "vector-")
    )
)
"""Attributes that may as well stand in `style`."""
_OF_ROOT = frozenset(("width", "height", "viewBox", "x", "y"))
LEAST_DASH = 0.05
"""Finer dashes make a million pieces of a line."""


def allowed(name: str, element: str) -> bool:
    """Whether an attribute is taken over; what is not (an editor's own, `on...`, `class`) is left out."""
    return name in FORMS and not (element == "svg" and name in _OF_ROOT)


def fits(name: str, value: str) -> bool:
    """Whether a value has the form of its attribute, so that it can be nothing else."""
    if name == "stroke-dasharray" and value != "none":
        numbers = [float(n) for n in re.findall(NUMBER, value)]
        return bool(numbers) and min(numbers) >= 0 and sum(numbers) / len(numbers) >= LEAST_DASH
    return FORMS[name].fullmatch(value) is not None
