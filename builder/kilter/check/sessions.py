"""What is done when in the sessions of a training module: lessons, turns at the machine, the paper, breaks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from kilter.model.training import Module, TrainingFront

MINUTES_A_QUESTION = 2
"""Where the paper says no time: reading four choices and weighing them. Common practice, no source."""
WITHOUT_BREAK, BREAK = 90, 15
"""Minutes that people sit or stand at a stretch, and the break after them. Common practice, no source."""
PAUSE = "Break"


@dataclass(frozen=True)
class Item:
    """A lesson, a turn at the machines, the paper, or a break."""

    what: str
    minutes: int | None
    objectives: tuple[str, ...] = ()
    where: str = "Teaching room"


@dataclass(frozen=True)
class Slot:
    """An item at its time; minutes from the beginning of the session."""

    session: int
    begins: int
    ends: int
    item: Item


def items_of(module: Module) -> list[Item]:
    """Lessons, then the turns at the machine, then the paper."""
    front = module.front
    found = [
        Item(f"Lesson {n}: {lesson.title}", lesson.minutes, _numbers(front, lesson.objectives))
        for n, lesson in enumerate(module.lessons, 1)
    ]
    turns = ceil(front.trainees / front.machines)
    for turn in range(turns if front.practical else 0):
        first, last = turn * front.machines + 1, min((turn + 1) * front.machines, front.trainees)
        who = f"trainee {first}" if first == last else f"trainees {first} to {last}"
        each = f"Practical, turn {turn + 1} of {turns}: {who}, each at a machine"
        found.append(Item(each, front.practical, (), "Workshop"))
    paper = f"Written paper: {front.paper.questions} questions"
    return [*found, Item(paper, for_the_paper(front))]


def _numbers(front: TrainingFront, names: tuple[str, ...]) -> tuple[str, ...]:
    """Objectives as they are numbered on paper."""
    return tuple(str(n) for n, name in enumerate(front.objectives, 1) if name in names)


def slots_of(items: Sequence[Item], sessions: Sequence[int]) -> tuple[list[Slot], list[Item]]:
    """Items in order, with breaks between them; what fits nowhere is told.

    An item that does not fit into the rest of a session begins the next. Before one that would go on for longer than
    people can sit there is a break; an item that is longer by itself is not cut.
    """
    found: list[Slot] = []
    left: list[Item] = []
    session, at, since = 0, 0, 0
    for item in items:
        minutes = item.minutes or 0
        pause = BREAK if since and since + minutes > WITHOUT_BREAK else 0
        if session < len(sessions) and at + pause + minutes > sessions[session]:
            later = range(session + 1, len(sessions))
            session, at, since, pause = (
                next((n for n in later if minutes <= sessions[n]), len(sessions)),
                0,
                0,
                0,
            )
        if session >= len(sessions):
            left.append(item)
            continue
        if pause:
            found.append(Slot(session, at, at + pause, Item(PAUSE, pause, (), "")))
            since = 0
        found.append(Slot(session, at + pause, at + pause + minutes, item))
        at, since = at + pause + minutes, since + minutes
    return found, left


def at_the_machine(front: TrainingFront) -> int:
    """Minutes until every trainee has had theirs, `machines` of them at a time."""
    return (front.practical or 0) * ceil(front.trainees / front.machines)


def for_the_paper(front: TrainingFront) -> int:
    """Minutes of the written paper."""
    return front.paper.minutes or MINUTES_A_QUESTION * front.paper.questions
