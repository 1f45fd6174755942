"""Drawings on a scale: the window of a switch, limits of a reading, preload, shares of a chain, days until flat."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from kilter.compute.rounding import about, at_least, at_most
from kilter.publish.drawings.ink import Picture
from kilter.publish.drawings.numbers import exact, inward, limit, outward, plain, written_range
from kilter.publish.drawings.rows import Ends, Row, Scale, rows_drawing, scale_of

MARKS = 12
_STEPS = ((1, "a day"), (7, "a week"), (28, "four weeks"), (364, "52 weeks"), (3640, "520 weeks"))


def said(rows: list[Row]) -> str:
    return "; ".join(f"{row.label} {row.numbers}".strip() for row in rows)


def window(given: Mapping[str, Any]) -> Picture | None:
    """The window, the setting with its tolerance, as found, the operating point, where it is over-driven.

    Needs `low`, `high`, `unit`, `from_click`; where they are there also `set`, `set_low`, `set_high`, `found`,
    `op_low`, `op_high`, `end`. None where there is no window.
    """
    low, high, unit = given["low"], given["high"], given["unit"]
    if low >= high:
        return None
    name = "Window past the click" if given["from_click"] else "Window"
    rows = [Row(name, inward(low, high, unit), zone=(low, high)), *_setting(given, unit)]
    if given.get("found") is not None:
        rows.append(Row("As found", plain(given["found"], unit), at=given["found"]))
    rows += _catalogue(given, unit)
    return rows_drawing(rows, said(rows), guides=(low, high))


def _setting(given: Mapping[str, Any], unit: str) -> list[Row]:
    aim, low, high = (given.get(key) for key in ("set", "set_low", "set_high"))
    if low is None or high is None:
        return [] if aim is None else [Row("Set", plain(aim, unit), at=aim)]
    return [Row("Set", written_range(low, high, unit), span=(low, high), at=aim)]


def _catalogue(given: Mapping[str, Any], unit: str) -> list[Row]:
    rows = []
    if given["from_click"]:
        rows.append(Row("Its own click", f"0 {unit}", at=0.0))
    elif given.get("op_low") is not None:
        low, high = given["op_low"], given["op_high"]
        where = outward(low, high, unit) if low < high else plain(low, unit)
        rows.append(Row("Operates at", where, span=(low, high)))
    if (end := given.get("end")) is not None:
        shown = limit(end, given["low"], given["high"], unit, upper=given["from_click"])
        way, shut = ("above", (end, None)) if given["from_click"] else ("below", (None, end))
        rows.append(Row("Over-driven", f"{way} {shown}", shut=shut))
    return rows


def limits(given: Mapping[str, Any]) -> Picture | None:
    """A reading with its uncertainty against its limits."""
    low, high, unit, read = given["low"], given["high"], given["unit"], given["read"]
    if low is None and high is None:
        return None
    zone: Ends = (low, high)
    numbers = _limit_words(low, high, unit)
    rows = [Row("Limit", numbers, zone=zone)]
    by = given["uncertainty"]
    if read is not None:
        span = None if not by else (read - by, read + by)
        with_u = f"{plain(read)} ± {_up(by)} {unit}" if by else plain(read, unit)
        rows.append(Row("Reading", with_u, span=span, at=read))
    positive = low is None and all(e is None or e >= 0 for e in (read, high))
    scale = scale_of(rows, from_zero=positive)
    return rows_drawing(rows, said(rows), scale, guides=[e for e in zone if e is not None])


def _up(uncertainty: float) -> str:
    """Two digits of it, rounded up; none where it was given with fewer."""
    shown = at_least(exact(uncertainty), 2)
    return shown.rstrip("0").rstrip(".") if "." in shown else shown


def _limit_words(low: float | None, high: float | None, unit: str) -> str:
    if low is not None and high is not None:
        return written_range(low, high, unit)
    return f"≤ {plain(high, unit)}" if high is not None else f"≥ {plain(low or 0.0, unit)}"


def preload(given: Mapping[str, Any]) -> Picture:
    """The force in a screw, and what it may take; newtons."""
    low, high, proof = (
        None if e is None else e / 1000 for e in (given["low"], given["high"], given["proof"])
    )
    assert low is not None and high is not None
    rows = [Row("Preload", f"{about(low)} to {about(high)} kN", zone=(low, high))]
    if proof is not None:
        rows.append(Row("Proof load", f"{about(proof)} kN", shut=(proof, None)))
    return rows_drawing(rows, said(rows), scale_of(rows, from_zero=True), guides=[proof] if proof else ())


def stack(given: Mapping[str, Any]) -> Picture | None:
    """What each part adds: hatched of the worst case, a diamond statistically."""
    shares = given["shares"]
    rows = [
        Row(str(name), f"{about(worst * 100, 2)} %", zone=(0.0, worst), at=likely)
        for name, worst, likely in shares
    ]
    if not rows:
        return None
    note = "Hatched: of the worst case. Diamond: statistically."
    return rows_drawing(rows, "share of the worst case: " + said(rows), Scale(0.0, 1.0), note=note)


def flat(given: Mapping[str, Any]) -> Picture | None:
    """Days from full until a battery is flat, marked by the week or by the day."""
    days = given["days"]
    if not 0 < days < 10_000:
        return None
    step, name = next((s, n) for s, n in _STEPS if days / s <= MARKS)
    marks = [float(step * n) for n in range(1, int(days / step) + 1)]
    rows = [Row("From full until flat", f"{at_most(days, 2)} days", zone=(0.0, days))]
    scale = Scale(0.0, days * 1.05)
    return rows_drawing(rows, said(rows), scale, marks, f"Each mark is {name}.")
