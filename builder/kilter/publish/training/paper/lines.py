"""The lines of a sign-off sheet, made from the steps of the chosen way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TypedDict

from kilter.compute.stepfacts import step_facts
from kilter.model.text import Role, plain
from kilter.publish.cards.inline import printable
from kilter.publish.cards.steps import VALUE_WORDS, unit_of, value_data
from kilter.publish.training.paper.found import shown
from kilter.publish.training.paper.graph import Turn, Way
from kilter.publish.view import DocumentView, StepView

DONE = {
    "isolates": "Isolates and holds",
    "releases": "Releases",
    "proves": "Proves zero",
    "restores": "Gives back",
    "loads": "Loads",
    "runs-on": "Runs on purpose",
    "wait": "Waits",
    "removes": "Takes off",
    "refits": "Refits",
    "all-clear": "Makes sure all is clear",
    "tests": "Tests",
}
"""What an observer sees done."""
WHOLE = "Does it as it is written"
"""The one line of a step that holds nothing of its own to watch: a sheet that left it out could not be signed for it."""


class SignOffLine(TypedDict):
    """One thing that is observed."""

    step: str
    title: str
    what: str
    limits: str
    unit: str
    """Of the reading to write down; empty where nothing is read."""
    control: bool
    """Not done unaided, it fails whatever the rest."""
    hash: str
    """12 hex digits of the step's facts."""


class SignOffStep(TypedDict):
    """A step with its lines."""

    number: str
    title: str
    hash: str
    lines: list[SignOffLine]


def sign_off_steps(view: DocumentView, way: Way) -> list[SignOffStep]:
    """Each step of the way once, with every control, value, proof, hold point and answer; none is left out."""
    turns: dict[str, list[Turn]] = {}
    for turn in way.turns:
        turns.setdefault(turn.step.anchor, []).append(turn)
    found = []
    for group in turns.values():
        step, digest = group[0].step, hash_of(view, group[0])
        title = printable(step.step.title)
        lines = [
            SignOffLine(step=step.number, title=title, hash=digest, **line)  # type: ignore[typeddict-item]
            for line in _lines(group)
        ]
        if not lines:
            lines = [SignOffLine(step=step.number, title=title, hash=digest, **_line(WHOLE))]  # type: ignore[typeddict-item]
        found.append(SignOffStep(number=step.number, title=title, hash=digest, lines=lines))
    return found


def hash_of(view: DocumentView, turn: Turn) -> str:
    """What a signature at this step is bound to."""
    facts = step_facts(turn.step.step, turn.stage.stage, turn.step.owner, view.profile, view.pictures)
    return facts.short


def _lines(turns: list[Turn]) -> Iterator[dict[str, object]]:
    step = turns[0].step
    hold = step.step.field("hold")
    if hold:
        who = hold.value or "a second person"
        yield _line(f"Stops and lets {who} look before going on", control=True)
    for role in step.step.roles:
        if role.name in DONE:
            yield _line(f"{DONE[role.name]}: {role.text}", control=True)
        elif role.name in VALUE_WORDS:
            yield _value(role)
    for answer in dict.fromkeys(t.answer for t in turns if t.answer is not None):
        on = aim(step, answer) if step.answers[answer].back else f"on to {aim(step, answer)}"
        yield _line(f"Given “{_given(step, answer)}”: goes {on}", control=is_control(step, answer))
    if step.exit:
        yield _line(f"Ends the work: {step.exit}", control=True)


def _line(what: str, limits: str = "", unit: str = "", control: bool = False) -> dict[str, object]:
    return {"what": printable(what), "limits": limits, "unit": unit, "control": control}


def _value(role: Role) -> dict[str, object]:
    data = value_data(role)
    phase = f"{data['phase'].capitalize()}, " if data["phase"] not in ("", "found") else ""
    words = f"{phase}{data['label'].removeprefix('Reading: ')}".replace(", Reading", "")
    limits = " ".join(filter(None, (data["value"], data["other"])))
    return _line(words, limits, printable(unit_of(data["value"])))


def _given(step: StepView, answer: int) -> str:
    card = shown(step, answer)
    return "; ".join(filter(None, (card.meter, card.words)))


def is_control(step: StepView, answer: int) -> bool:
    """Whether the answer says that a proof or a test failed: going on wrongly from there can hurt."""
    return step.step.answers[answer].failure is not None


def holds_control(step: StepView) -> bool:
    """Whether a step that is only read through holds a control, or ends the work."""
    return bool(step.exit or step.step.field("hold")) or any(r.name in DONE for r in step.step.roles)


def aim(step: StepView, answer: int) -> str:
    """Where an answer leads, as it is said on paper."""
    way = step.answers[answer]
    words = plain(step.step.answers[answer].link.runs)
    return printable("back to the step that sent you here" if way.back else f"step {way.number}, {words}")
