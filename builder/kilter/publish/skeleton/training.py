"""A new training module, drafted from the documents that it is to teach.

An objective for each stage of the documents, with its steps; a lesson for each objective, which takes in the steps
that prove, set or read something; minutes shared out so that lessons, work at the machine, the paper and breaks fit.
What somebody has to decide is a blank: what the trainee can do afterwards, for how many, how long it holds.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from kilter.check.sessions import Item, slots_of
from kilter.model.base import fold, slugify
from kilter.model.document import Document, Stage, Step
from kilter.model.library import Library
from kilter.outcome import CouldNotRunError
from kilter.publish.skeleton.words import literal, quoted

MOST_QUESTIONS, LEAST_QUESTIONS = 20, 5
PRACTICAL = 0.4
"""Share of the time that goes to work at the machine: most of what is taught is done by hand. Common practice, no source."""
WORTH_SHOWING = ("proves", "set", "torque", "read", "tests")
LEAST_LESSON = 5
"""Minutes."""
STOPS = ("left locked out, tagged", "left as found")


@dataclass(frozen=True)
class Draft:
    """What one stage becomes: an objective and a lesson."""

    id: str
    title: str
    covers: tuple[str, ...]
    """`NUMBER#step`, in order."""
    shown: tuple[str, ...]
    """Those that the lesson takes in."""


def training_text(
    library: Library, documents: Sequence[str], number: str, title: str, minutes: int, day: date
) -> str:
    """The whole file. Raises CouldNotRunError for a document that is not there, or too little time."""
    taught = [_document(library, each) for each in documents]
    drafts = _drafts(library, taught)
    questions = max(LEAST_QUESTIONS, min(MOST_QUESTIONS, minutes // 10))
    practical = int(minutes * PRACTICAL)
    each = _lesson_minutes(len(drafts), minutes, practical, 2 * questions)
    if each < LEAST_LESSON:
        raise CouldNotRunError(
            f"{minutes} minutes are too few for {len(drafts)} lessons, a paper and work at the machine"
        )
    head = title or "[fill in: title]"
    rows = [
        "---", "kind: training", f"number: {number}", "revision: A", f"title: {quoted(head)}", 'writers: ["[fill in: initials]"]',
        f"date: {day.isoformat()}", 'audience: "[fill in: for whom, and what they have done before]"',
        f"covers: [{', '.join(_number(d) for d in taught)}]", "objectives:",
    ]  # fmt: skip
    for draft in drafts:
        aim = f"[fill in: what the trainee can do after {draft.title}, beginning with a verb that can be watched]"
        rows += [f"  {draft.id}:", f"    text: {quoted(aim)}", "    covers:"]
        rows += [f"      - {step}" for step in draft.covers]
    rows += [
        f"sessions: {minutes}", 'trainees: "[fill in: how many at a time]"', 'machines: "[fill in: how many to train on]"',
        f"practical: {practical}", "pass-mark: 80", f"paper: {{questions: {questions}, forms: 2}}",
        'revalidate: "[fill in: months until it is shown again]"', "---", f"# {literal(head)}", "",
        "[fill in: what goes wrong on the wards without this, in two or three sentences]",
    ]  # fmt: skip
    for draft in drafts:
        rows += ["", f"## {literal(draft.title)}", f":minutes: {each}", f":objectives: {draft.id}", ""]
        rows += ["[fill in: why this is done, and what is often done wrong]"]
        for step in draft.shown:
            rows += ["", f":::{{from}} {step}", ":::"]
    return "\n".join(rows) + "\n"


def settled(text: str) -> str:
    """A draft with a number in each blank that asks for one, so that the rest can be read."""
    return re.sub(
        r'^(trainees|machines|revalidate): "\[fill in: [^\]]*\]"$', r"\1: 1", text, flags=re.MULTILINE
    )


def _lesson_minutes(lessons: int, minutes: int, practical: int, paper: int) -> int:
    """The longest that each lesson can be, so that all fits into one session with its breaks."""
    for each in range((minutes - practical - paper) // max(1, lessons), LEAST_LESSON - 1, -1):
        items = [*[Item("lesson", each)] * lessons, Item("practical", practical), Item("paper", paper)]
        if not slots_of(items, (minutes,))[1]:
            return each
    return 0


def _document(library: Library, number: str) -> Document:
    found = library.number(number)
    if found is None:
        from kilter.diagnostic import did_you_mean

        known = [_number(d) for d in library.numbers.values()]
        raise CouldNotRunError(
            f"no procedure or pre-use check has the number `{number}`; {did_you_mean(number, known)}"
        )
    return found


def _number(document: Document) -> str:
    return str(getattr(document.front, "number", ""))


def _drafts(library: Library, documents: Sequence[Document]) -> list[Draft]:
    found: list[Draft] = []
    taken: set[str] = set()
    for document in documents:
        for stage in document.stages:
            steps = [s for s in stage.steps if not _only_stops(s)]
            covers = [
                f"{_number(document)}#{step.slug}"
                for own in steps
                for step in (own, *_inside(library, document, own))
            ]
            if not covers:
                continue
            id = _free(slugify(stage.title) or "part", taken)
            shown = [
                f"{_number(document)}#{s.slug}"
                for s in steps
                if any(r.name in WORTH_SHOWING for r in s.roles)
            ]
            found.append(Draft(id, stage.title, tuple(dict.fromkeys(covers)), tuple(shown[:3])))
    return found


def _only_stops(step: Step) -> bool:
    exit = step.field("exit")
    return exit is not None and fold(exit.value) in STOPS and not step.roles


def _inside(library: Library, document: Document, step: Step) -> tuple[Step, ...]:
    """The steps of the shared stage that a step asks for."""
    call = step.field("do")
    name = call.value.strip().removeprefix("#") if call else ""
    profile = library.profile_of(document)
    stages: dict[str, Stage] = {**(profile.shared_stages if profile else {}), **document.shared_stages}
    return stages[name].steps if name in stages else ()


def _free(id: str, taken: set[str]) -> str:
    n, name = 2, id
    while name in taken:
        name, n = f"{id}-{n}", n + 1
    taken.add(name)
    return name
