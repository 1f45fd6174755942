"""A new equipment profile: every kind of energy is a source with blanks, or somebody has said that there is none."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kilter.diagnostic import did_you_mean
from kilter.model.front import ENERGY_KINDS
from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton.words import front, literal, quoted

_HELD = 'isolate: "[fill in: %s]"'
_PROVE = 'prove: "[fill in: instrument, where, and below what]"'
_WORD = 'word: "[fill in: At least which signal word? danger, warning or caution, such as warning]"'
_ACTION = 'release: "[fill in: action if somebody lets it out with a valve or a tool, bleed if time alone does; such as action]"'
_BLEED = 'release: "[fill in: bleed if time alone lets it out, action if somebody does and then no bleed time; such as bleed]"'
_TIME = 'bleed: "[fill in: how long that takes, such as 5 min]"'
_LOADED = 'loaded-by: ["[fill in: the words of the work that load it, such as wind the nut in]"]'

KEYS = {
    "mains": (
        "lockable: true",
        "word: danger",
        _HELD % "where the plug or switch is, and the lock that holds it",
    ),
    "battery": ("lockable: true", _WORD, _HELD % "how it is taken out, and what it is locked in"),
    "capacitor": (_WORD, _BLEED, _TIME),
    "hydraulic": (_WORD, _ACTION),
    "pneumatic": (
        "lockable: true",
        _WORD,
        _HELD % "where it is shut off, and the lock that holds it",
        _ACTION,
    ),
    "vacuum": ("lockable: true", _WORD, _HELD % "where it is shut off, and the lock that holds it", _ACTION),
    "gravity": ("lockable: true", _WORD, _HELD % "the stand or prop that it is put on, and its pin"),
    "spring": (_WORD, _ACTION, _LOADED),
    "heat": (_WORD, _BLEED, _TIME),
    "motion": (_WORD, _BLEED, _TIME),
    "pressure": ("lockable: true", _WORD, _HELD % "the stop valve, and the lock that holds it", _ACTION),
}
"""What is asked of a source of each kind, besides its proof and its feeds."""

FED = ("capacitor", "hydraulic", "heat", "motion")
"""Kinds that mostly die with the supply; the feeds that the machine has are written in."""

ASK = {
    "mains": "a plug or a fixed supply",
    "battery": "a pack or a cell that can drive something",
    "capacitor": "a large one that stays charged, as in a motor drive",
    "hydraulic": "oil under pressure, a cylinder, an accumulator",
    "pneumatic": "compressed air or another gas that moves something",
    "vacuum": "a suction pump, a bag or bottle under vacuum",
    "gravity": "something that can drop, swing or roll when it is let go",
    "spring": "a spring or gas strut that is tight while the cover is off",
    "heat": "something too hot to touch",
    "motion": "something that turns or runs on after it is switched off",
    "pressure": "steam, water or a vessel under pressure",
}
"""What each kind means, in the question that `kilter new equipment` asks."""


@dataclass(frozen=True)
class Machine:
    """What is known of a machine before its profile is written; empty words become blanks."""

    id: str = ""
    title: str = ""
    kinds: tuple[str, ...] | None = None
    """Kinds of energy it has; None: nobody has said, so each is there until somebody says it is not."""
    guards: tuple[str, ...] = ()
    tests: tuple[str, ...] = ()


def machine_text(machine: Machine, day: date) -> str:
    """The whole file. Raises CouldNotRunError for a kind that is not known."""
    kinds = _kinds(machine.kinds)
    title = machine.title or "[fill in: machine, maker and model]"
    keys = {
        "kind": "equipment",
        "id": machine.id or quoted("[fill in: short name in lower case, such as tern-2]"),
        "title": quoted(title),
        "writers": '["[fill in: initials]"]',
        "date": day.isoformat(),
        "sources": "".join(_source(kind, kinds, machine.kinds is None) for kind in kinds) or " {}",
        "none": f"[{', '.join(k for k in ENERGY_KINDS if k not in kinds)}]",
        "guards": _list(machine.guards, "each cover that can come off - such as rear cover"),
        "zones": f"{{inside: [{', '.join(kinds)}]}}",
        "before-service": _list(machine.tests, "each test before the machine goes back - such as full run"),
    }
    if not kinds:
        del keys["zones"]
        keys["sources"] = "{}"
    return front(keys) + _body(title, machine.kinds is None)


def _kinds(given: tuple[str, ...] | None) -> tuple[str, ...]:
    for kind in given or ():
        if kind not in ENERGY_KINDS:
            raise CouldNotRunError(f"`{kind}` is no kind of energy; {did_you_mean(kind, ENERGY_KINDS)}")
    return ENERGY_KINDS if given is None else tuple(k for k in ENERGY_KINDS if k in given)


def _source(kind: str, kinds: tuple[str, ...], unasked: bool) -> str:
    rows = [f"kind: {kind}", *KEYS[kind]]
    feeds = [k for k in ("mains", "battery") if k in kinds and k != kind]
    if kind in FED and feeds:
        rows.insert(1, f"fed-by: [{', '.join(feeds)}]")
    if kind == "battery" and feeds:
        rows.insert(1, "charged-by: [mains]")
    if unasked:
        rows.append(
            'origin: "[fill in: where you found it; if there is none, delete these rows, write its kind into none and take it out of zones]"'
        )
    return "".join(f"\n  {row}" for row in (f"{kind}:", *(f"  {row}" for row in (*rows, _PROVE))))


def _list(names: tuple[str, ...], ask: str) -> str:
    return f"[{', '.join(quoted(n) for n in names) or quoted(f'[fill in: {ask}]')}]"


def _body(title: str, unasked: bool) -> str:
    more = (
        "\n[fill in: go through every kind of energy at the machine, then delete this line]\n"
        if unasked
        else ""
    )
    return f"# {literal(title)}\n\n[fill in: what the machine is and does, in two sentences]\n{more}"
