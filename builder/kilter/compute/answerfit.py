"""Which answers of a step contradict what was read. The phone has the same in `site/app/answerfit.js`.

An answer's `fits` comes from its words (`publish/run/fits.py`): `inside` with limits says that each of these readings
is inside, without it that at least one is not. A reading that is too close to call proves nothing either way.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from typing import Any

NO_PASS = ("fail", "too close to call")
Taken = Mapping[str, Mapping[str, str]]
"""The last of each reading by its id: `value`, `verdict`, `phase`."""


def agrees(fits: Mapping[str, Any] | None, taken: Taken) -> bool | None:
    """Whether an answer is true of what was read; None where its words or the readings don't say."""
    if not fits:
        return None
    found = [_within(limit, taken) for limit in fits["limits"]]
    if fits["inside"]:
        return False if False in found else None if None in found else True
    return True if False in found else None if None in found else False


def _within(limit: Sequence[Any], taken: Taken) -> bool | None:
    of, low, high, low_itself, high_itself = limit
    reading = taken.get(of)
    if reading is None or reading["verdict"] == "too close to call":
        return None
    value = Fraction(reading["value"])
    above = not low or value > Fraction(low) or (low_itself and value == Fraction(low))
    below = not high or value < Fraction(high) or (high_itself and value == Fraction(high))
    return bool(above and below)


def marked(answer: Mapping[str, Any]) -> bool:
    """Whether it says itself that something is not as it should be."""
    return bool(answer["notZero"] or answer["notOk"])


def refused(answers: Sequence[Mapping[str, Any]], index: int, taken: Taken) -> str:
    """The reading because of which a sound answer can't be chosen, by the marks alone; empty where there is none.

    A finding as found may be bad: the answers say what becomes of it.
    """
    if marked(answers[index]) or not any(map(marked, answers)):
        return ""
    bad = (of for of, r in taken.items() if r["phase"] != "as found" and r["verdict"] in NO_PASS)
    return next(bad, "")


def closed(answers: Sequence[Mapping[str, Any]], taken: Taken) -> list[int]:
    """Answers that can't be chosen because their words contradict the readings.

    One that is marked as failing stays open, whatever was read: there may be more to see than a number. Where no
    answer would be left, none is closed.
    """
    found = [
        n
        for n, answer in enumerate(answers)
        if not marked(answer) and agrees(answer.get("fits"), taken) is False
    ]
    left = [n for n in range(len(answers)) if n not in found and not refused(answers, n, taken)]
    return found if left else []


def doubted(answers: Sequence[Mapping[str, Any]], index: int, taken: Taken) -> str:
    """The reading because of which an answer is asked about once more before it counts; empty where there is none.

    That is one whose words contradict the readings though it is open, and one that does not say how it stands to a
    reading that is no pass.
    """
    answer = answers[index]
    agreed = agrees(answer.get("fits"), taken)
    if agreed is False:
        return _first(limit[0] for limit in answer["fits"]["limits"])
    if agreed is None and not marked(answer):
        return _first(of for of, reading in taken.items() if reading["verdict"] in NO_PASS)
    return ""


def _first(ids: Iterable[str]) -> str:
    return next(iter(ids), "")
