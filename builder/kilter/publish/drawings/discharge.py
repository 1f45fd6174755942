"""The voltage of a capacitor while it drains, with the voltage that counts as safe and the waits marked."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from math import exp
from typing import Any

from kilter.compute.rounding import about, at_least
from kilter.publish.drawings.ink import (
    LINE,
    SIZE,
    WIDTH,
    Picture,
    diamond,
    drawing,
    line,
    path,
    words,
    wrapped,
)  # fmt: skip
from kilter.publish.drawings.numbers import exact, plain

PLOT = 110.0
POINTS = 60


def discharge(given: Mapping[str, Any]) -> Picture | None:
    """Needs `tau`, `least`, `wait` in s, `start`, `end` in V; None where nothing drains."""
    tau, start, end, least, wait = (given[k] for k in ("tau", "start", "end", "least", "wait"))
    if least <= 0 or start <= end:
        return None
    longest = max(least, wait or 0.0) * 1.12
    top, left = SIZE + 6, 8.0
    room = WIDTH - 2 * left

    def at(t: float) -> tuple[float, float]:
        return left + t / longest * room, top + PLOT * (1 - exp(-t / tau))

    marks = [words(left + 6, SIZE - 2, f"{about(start)} V")]
    marks += [path([(left, top - 4), (left, top + PLOT), (WIDTH - 2, top + PLOT)], 1.5)]
    safe = top + PLOT * (1 - end / start)
    marks += [line(left, safe, WIDTH - left, safe, 1.5, dashed=True)]
    marks += [path([at(longest * n / POINTS) for n in range(POINTS + 1)], 2.5)]
    legend = [(_dash, f"taken for safe: {about(end)} V"), (_full, f"wait at least {_least(least)}")]
    marks += _stop(at(least)[0], top, filled=True)
    if wait is not None:
        marks += _stop(at(wait)[0], top, filled=False)
        legend.append((_empty, f"the step waits {_waited(wait)}"))
    rows, y = _legend(legend, top + PLOT + 10)
    said = f"from {about(start)} V; " + "; ".join(text for _, text in legend)
    return drawing(y, said, *marks, *rows)


def _stop(x: float, top: float, filled: bool) -> list[str]:
    return [line(x, top, x, top + PLOT - 6, 1.5, dashed=not filled), diamond(x, top + PLOT, 6, filled)]


def _legend(rows: Sequence[tuple[Callable[[float, float], str], str]], y: float) -> tuple[list[str], float]:
    """A sign and its words, row by row: no two of them can meet."""
    marks = []
    for sign, said in rows:
        for n, part in enumerate(wrapped(said, WIDTH - 30)):
            y += LINE
            marks.append(words(28, y - 6, part))
            if n == 0:
                marks.append(sign(12, y - 12))
    return marks, y + 2


def _dash(x: float, y: float) -> str:
    return line(x - 10, y, x + 10, y, 1.5, dashed=True)


def _full(x: float, y: float) -> str:
    return diamond(x, y)


def _empty(x: float, y: float) -> str:
    return diamond(x, y, filled=False)


def _least(seconds: float) -> str:
    """As the calculator writes it: seconds below two minutes, else minutes, rounded up."""
    if seconds < 120:
        return f"{at_least(exact(seconds), 2)} s"
    return f"{at_least(exact(seconds / 60), 2)} min"


def _waited(seconds: float) -> str:
    """As somebody wrote it."""
    return plain(seconds, "s") if seconds < 120 else plain(seconds / 60, "min")
