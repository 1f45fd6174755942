"""The order of bolts and their passes, as lines of an answer and as a drawing."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from kilter.compute.bolt_order import MOST, PASSES, Bolt, Shape, circle, grid, line, order
from kilter.compute.calculation import InputError, Line
from kilter.compute.rounding import about
from kilter.compute.value import Quantity

_RECTANGLE = re.compile(r"rectangle(?:\s+(?P<rows>[0-9]{1,2})\s?(?:x|×|by)\s?(?P<columns>[0-9]{1,2}))?")


def bolts_of(given: Mapping[str, Any]) -> tuple[Shape, list[Bolt]] | None:
    """The pattern that the inputs describe; raises InputError."""
    if "bolts" not in given:
        if "pattern" in given:
            raise InputError("bolts", "`pattern` without `bolts`", "say how many, such as `8`")
        return None
    count: int = given["bolts"]
    if count > MOST:
        raise InputError("bolts", f"{count:,} bolts", f"{MOST} at most")
    written: str = given.get("pattern", "circle")
    pattern = " ".join(written.casefold().split())
    if pattern == "circle":
        return "circle", circle(count)
    if pattern == "line":
        return "line", line(count)
    match = _RECTANGLE.fullmatch(pattern)
    if match is None:
        help = "write `circle`, `line`, or `rectangle 2 x 4` (rows by columns)"
        raise InputError("pattern", f"`{written[:30]}` is no pattern", help, 0, len(written))
    return "rectangle", _rectangle(match, count)


def _rectangle(match: re.Match[str], count: int) -> list[Bolt]:
    if match["rows"] is None:
        if count % 2 or count < 4:
            help = "write rows and columns, such as `rectangle 3 x 5`"
            raise InputError("pattern", f"{count} bolts in a rectangle of two rows", help)
        return grid(2, count // 2)
    rows, columns = int(match["rows"]), int(match["columns"])
    if rows >= 2 and columns >= 2:
        for frame in (False, True):
            found = grid(rows, columns, frame)
            if len(found) == count:
                return found
    edge = f", or {2 * (rows + columns) - 4} round its edge" if rows > 2 and columns > 2 else ""
    help = f"{rows} x {columns} are {rows * columns} bolts{edge}"
    raise InputError("pattern", f"no rectangle {rows} x {columns} of {count} bolts", help)


def order_lines(
    shape: Shape, bolts: list[Bolt], torque: Quantity | None
) -> tuple[list[Line], dict[str, Any]]:
    """Lines, and the drawing with every bolt's number, place and turn."""
    found = order(bolts, shape)
    lines = [
        Line("order", "-".join(str(n) for n in found), main=True),
        Line("numbering", _numbering(shape)),
        Line("passes", _passes(torque), main=True),
    ]
    turn = {number: n + 1 for n, number in enumerate(found)}
    places = [{"number": b.number, "x": b.x, "y": b.y, "turn": turn[b.number]} for b in bolts]
    return lines, {"kind": "bolts", "shape": shape, "bolts": places, "passes": [float(p) for p in PASSES]}


def _numbering(shape: Shape) -> str:
    ways = {
        "circle": "clockwise from the top",
        "line": "from the left",
        "rectangle": "row by row from the top left",
    }
    return ways[shape]


def _passes(torque: Quantity | None) -> str:
    again = "then once more round"
    if torque is None or torque.low is None or torque.high is None:
        return "30 %, 60 %, 100 % of the torque, " + again
    middle = (
        Fraction(torque.nominal) if torque.nominal is not None else Fraction(torque.low + torque.high) / 2
    )
    first = ", ".join(f"{about(middle * p, 2)} {torque.unit}" for p in PASSES[:-1])
    return f"{first}, {torque.text.strip()}, {again} at {torque.text.strip()}"
