"""Keys and values of the front matter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kilter.assist.front import FrontSpot
from kilter.assist.known import Entry, Known
from kilter.check.module import number_of
from kilter.compute.calculators.battery import CHEMISTRIES
from kilter.model.front import ENERGY_KINDS, KINDS, TASKS, EnergySource, Needs, Switch, Symptom, Tool
from kilter.model.text import SIGNAL_WORDS
from kilter.model.training import Objective, PaperPlan
from kilter.read.front import MODELS, field_names
from kilter.source import Source

KEYS = {
    "kind": "equipment, procedure, pre-use-check or training",
    "task": "what the procedure is for",
    "number": "its address for ever",
    "revision": "A, B, C .. without I, O, Q, S, X, Z",
    "title": "the same words as the first heading",
    "id": "short name of the machine, in lower case",
    "equipment": "id of the equipment profile",
    "applies-to": "serials, build states, options",
    "writers": "people, by their initials",
    "date": "the date printed, such as 2026-11-03",
    "symptoms": "what is noticed first",
    "time": "minutes",
    "people": "how many persons it takes",
    "weight": "kilograms lifted at once",
    "protective": "protective gear",
    "tools": "tools with range, accuracy, calibration",
    "parts": "parts with stock number and quantity",
    "sources": "every source of energy of the machine",
    "none": "kinds of energy that the machine does not have",
    "guards": "covers that can come off",
    "zones": "which sources can be reached where",
    "switches": "catalogue figures of position switches",
    "before-service": "tests before the machine goes back",
    "also": "other words for it: searched, never printed",
    "fed-by": "dead when these are dead",
    "charged-by": "these charge it; cutting them leaves it live",
    "lockable": "whether a lock, pin or prop can hold it",
    "word": "the least signal word that its cautions may have",
    "isolate": "how it is cut off and held",
    "prove": "how zero is proved",
    "release": "`action`, or `bleed` by itself",
    "bleed": "how long it drains, such as 5 min",
    "reaccumulates": "`true`, or the time after which it has built up",
    "chemistry": "of a battery, such as lead-acid AGM",
    "capacity": "of a battery, such as 12 Ah",
    "load": "of a battery: the parts of the machine's day",
    "capacitance": "of a capacitor, such as 470 µF ± 20 %",
    "resistance": "of the resistor that drains it, such as 10 kΩ",
    "voltage": "the highest it can be charged to",
    "needs": "the order of releasing and restoring",
    "loaded-by": "words for the work that charges it",
    "release-from": "outside or inside the guards",
    "prove-from": "outside or inside the guards",
    "why": "what it is, for kind `other`",
    "origin": "where the values come from",
    "new": "a part that is new each time",
    "covers": "documents and steps that are taught, such as LFT-120#prove-zero",
    "objectives": "what a trainee can do afterwards, each with its steps",
    "text": "what a trainee can do afterwards; begins with a verb that can be watched",
    "audience": "for whom the module is",
    "sessions": "minutes of each session",
    "trainees": "how many learn at a time",
    "machines": "training machines side by side",
    "practical": "minutes a trainee has at a machine",
    "pass-mark": "percent of the paper",
    "paper": "questions and parallel forms of the written paper",
    "questions": "how many questions a paper has",
    "forms": "parallel papers, so that neighbours can't copy",
    "minutes": "how long the paper may take",
    "revalidate": "months until it has to be shown again",
    "confirmed": "written by `kilter training confirm`: which state of each step was looked at",
}
"""What a key is for, in a few words."""
BLOCKS = ("sources", "zones", "switches", "symptoms", "tools", "parts", "objectives", "confirmed")
"""Keys whose values stand in the rows below."""
_WORDS: dict[str, tuple[str, ...]] = {
    "word": SIGNAL_WORDS[:3],
    "release": ("action", "bleed"),
    "release-from": ("outside", "inside"),
    "prove-from": ("outside", "inside"),
    "lockable": ("true", "false"),
    "reaccumulates": ("true", "false"),
    "chemistry": CHEMISTRIES,
}


def front_entries(known: Known, at: FrontSpot) -> Iterable[Entry]:
    """What fits at a place of the front matter."""
    if at.writes == "key":
        return _keys(known, at)
    keys = tuple(k.replace(" ", "-") if n != 1 else k for n, k in enumerate(at.keys))
    found = _values(known, keys)
    named = {part.strip() for part in _row_before(known, at).split(",")}
    return (e for e in found if at.writes == "value" or e.label not in named)


def _row_before(known: Known, at: FrontSpot) -> str:
    text = known.source.row(at.replace.line - 1)[: at.replace.column - 1]
    return text[text.rfind("[") + 1 :]


def _keys(known: Known, at: FrontSpot) -> Iterator[Entry]:
    for name in _possible(known.source, at.keys):
        if name not in at.present:
            block = name in BLOCKS and not at.keys
            insert = name if at.closed else f"{name}:" if block else f"{name}: "
            yield Entry(name, "key", KEYS.get(name, ""), insert=insert)


def _possible(source: Source, keys: tuple[str, ...]) -> list[str]:
    match keys:
        case ():
            model = MODELS.get(_kind(source))
            return field_names(model) if model is not None else ["kind"]
        case ("sources", _):
            return field_names(EnergySource)
        case ("sources", _, "needs"):
            return field_names(Needs)
        case ("switches", _):
            return field_names(Switch)
        case ("tools", _) | ("parts", _):
            return [n for n in field_names(Tool) if n != "name"]
        case ("objectives", _):
            return field_names(Objective)
        case ("paper",):
            return field_names(PaperPlan)
        case ("symptoms", _):
            return [n for n in field_names(Symptom) if n != "symptom"]
    return []


def _kind(source: Source) -> str:
    for row in source.lines[1:]:
        if row.startswith("kind:"):
            return row.removeprefix("kind:").strip(" \"'")
        if row.rstrip() == "---":
            break
    return ""


def _values(known: Known, keys: tuple[str, ...]) -> Iterable[Entry]:
    match keys:
        case ("kind",):
            return _words(KINDS)
        case ("task",):
            return _words(TASKS)
        case ("equipment",):
            return known.profiles()
        case ("covers",) | ("objectives", _, "covers"):
            return _words(sorted(number_of(d) for d in known.workspace.library.numbers.values()))
        case ("none",):
            return _words(ENERGY_KINDS)
        case ("sources", _, "kind"):
            return _words((*ENERGY_KINDS, "other"))
        case ("sources", name, "fed-by" | "charged-by" | "needs", *_):
            return (e for e in known.sources() if e.label != name)
        case ("zones", _):
            return known.sources()
        case ("sources", _, key):
            return _words(_WORDS.get(key, ()))
        case ("tools" | "parts", _, "new"):
            return _words(("each time",))
        case ("tools",):
            return known.kit("tool")
        case ("parts",):
            return known.kit("part")
        case ("writers",):
            return _words(
                sorted({w for d in known.workspace.library.documents.values() for w in d.front.writers})
            )
    return ()


def _words(names: Iterable[str]) -> Iterator[Entry]:
    return (Entry(name, "word") for name in names)
