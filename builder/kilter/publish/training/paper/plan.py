"""The session plan: what is done when, with what, and in which room."""

from __future__ import annotations

from kilter.check.sessions import (
    BREAK,
    PAUSE,
    WITHOUT_BREAK,
    Item,
    Slot,
    at_the_machine,
    for_the_paper,
    items_of,
    slots_of,
)
from kilter.model.base import fold
from kilter.model.training import TrainingFront
from kilter.publish.cards.handout import SCALE
from kilter.publish.cards.heads import Data
from kilter.publish.cards.inline import printable
from kilter.publish.training.paper.subject import Subject
from kilter.publish.training.paper.taken import kit_row
from kilter.publish.view import declared_kit


def plan_data(subject: Subject, width: int, height: int) -> Data:
    front = subject.module.front
    slots, left = slots_of(items_of(subject.module), front.sessions)
    return {
        **subject.head(width, height, "Session plan"),
        "scale": SCALE,
        "facts": _facts(front),
        "sessions": [_session(n, minutes, slots) for n, minutes in enumerate(front.sessions)],
        "breaks": {"every": WITHOUT_BREAK, "minutes": BREAK},
        "left": [{"what": printable(i.what), "minutes": _minutes(i)} for i in left],
        "rooms": _rooms(front),
        "machines": _machines(subject),
        "kit": _kit(subject),
    }


def _facts(front: TrainingFront) -> list[Data]:
    pairs = [
        ("For", front.audience or ""),
        ("Trainees", str(front.trainees)),
        ("Training machines", str(front.machines)),
        (
            "Practical",
            f"{front.practical} min a trainee, {at_the_machine(front)} min in all" if front.practical else "",
        ),
        (
            "Written paper",
            f"{front.paper.questions} questions, {for_the_paper(front)} min, {front.paper.forms} forms",
        ),
        ("Pass mark", f"{front.pass_mark} % of the paper, and every question of safety right"),
        ("Shown again after", f"{front.revalidate} months" if front.revalidate else ""),
    ]
    return [{"name": name, "text": printable(text)} for name, text in pairs if text]


def _session(number: int, minutes: int, slots: list[Slot]) -> Data:
    own = [s for s in slots if s.session == number]
    used = max((s.ends for s in own), default=0)
    rows = [
        {
            "time": f"{s.begins}–{s.ends}" if s.item.minutes else "",
            "minutes": _minutes(s.item),
            "what": printable(s.item.what),
            "objectives": ", ".join(s.item.objectives),
            "where": s.item.where,
            "pause": s.item.what == PAUSE,
        }
        for s in own
    ]
    return {"number": str(number + 1), "minutes": minutes, "rows": rows, "rest": minutes - used}


def _minutes(item: Item) -> str:
    return f"{item.minutes} min" if item.minutes else "no time given"


def _rooms(front: TrainingFront) -> list[Data]:
    seats = f"{front.trainees} seats with a place to write, a screen for the slides"
    places = "machine" if front.machines == 1 else "machines side by side"
    shop = f"{front.machines} training {places}, mains and room to walk round each, no patient area"
    return [{"name": "Teaching room", "text": seats}, {"name": "Workshop", "text": shop}]


def _machines(subject: Subject) -> list[Data]:
    titles = dict.fromkeys(v.equipment.title for v in subject.covered)
    found = []
    for title in titles:
        own = [v for v in subject.covered if v.equipment.title == title]
        locks = [name for name, source in own[0].equipment.sources.items() if source.lockable]
        applies = dict.fromkeys(a for v in own for a in v.front.applies_to)
        found.append(
            {
                "title": printable(title),
                "documents": ", ".join(v.number for v in own),
                "applies": printable("; ".join(applies)),
                "locks": printable(", ".join(locks)),
            }
        )
    return found


def _kit(subject: Subject) -> list[Data]:
    """Tools and parts of all documents and of the module itself, each once, with who asks for it."""
    front = subject.module.front
    own = (("tool", front.tools), ("part", front.parts))
    asked = [("the module", declared_kit(kind, each)) for kind, all_own in own for each in all_own]
    asked += [(view.number, kit) for view in subject.covered for kit in view.kit]
    found: dict[tuple[str, str], Data] = {}
    for name, kit in asked:
        entry = found.setdefault(
            (kit.kind, fold(kit.name)), {**kit_row(kit), "part": kit.kind == "part", "documents": []}
        )
        entry["documents"].append(name)
    for entry in found.values():
        details, amount = entry["cells"]
        count = f"{front.trainees} × ({amount})" if amount else f"for {front.trainees}"
        entry["cells"] = [details, count if entry["part"] else amount or str(front.machines)]
        entry["documents"] = ", ".join(entry["documents"])
    return sorted(found.values(), key=lambda e: e["part"])
