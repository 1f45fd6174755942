"""The questions that `kilter new equipment` asks on a terminal; nothing is written before the last answer."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton.equipment import ASK


def ask(
    given: dict[str, Any], wrong: Callable[[str], str], read: Callable[[str], str] = input
) -> dict[str, Any]:
    """The same with what was not given asked for; `wrong` says what is amiss with an id, empty for nothing.

    Raises CouldNotRunError when the person breaks off.
    """
    try:
        answered = dict(given)
        answered["id"] = given["id"] or _id(wrong, read)
        answered["title"] = (
            given["title"] or read("Machine, maker and model (empty: later): ").strip() or None
        )
        answered["sources"] = _kinds(read)
        for key, question in (("guards", "Covers that can come off"), ("tests", "Tests before it goes back")):
            answered[key] = given[key] or _listed(read(f"{question}, commas between (empty: later): "))
        return answered
    except (EOFError, KeyboardInterrupt):
        print()
        raise CouldNotRunError("stopped; nothing was written") from None


def _id(wrong: Callable[[str], str], read: Callable[[str], str]) -> str | None:
    """An id is refused where it is typed, not after all the other answers."""
    while id := read("Short name in lower case, such as egret-2 (empty: later): ").strip():
        if not (trouble := wrong(id)):
            return id
        print(trouble)
    return None


def _kinds(read: Callable[[str], str]) -> tuple[str, ...]:
    """Each kind of energy in turn: no answer counts but yes or no."""
    print("Go through the machine. Answer y if you are not sure: a blank can still become a no.")
    return tuple(kind for kind, what in ASK.items() if _yes(read, f"Is there {kind}: {what}? [y/n] "))


def _yes(read: Callable[[str], str], question: str) -> bool:
    while True:
        answer = read(question).strip().casefold()
        if answer in ("y", "yes", "n", "no"):
            return answer.startswith("y")
        print("y or n, please")


def _listed(answer: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for part in answer.split(",") if (name := " ".join(part.split()))))
