"""Where a step leads, as data for the templates: answers, jumps, returns, exits."""

from __future__ import annotations

from typing import TypedDict

from kilter.model.base import fold
from kilter.model.document import Answer, Failure
from kilter.model.text import plain
from kilter.publish.cards.inline import Inline, Scope, inlines, printable
from kilter.publish.view import EXITS, AnswerView, StageView, StepView

BACK = "Go back to the step that sent you here, and on from there."


class AnswerData(TypedDict):
    """What is seen, and where it leads."""

    seen: list[Inline]
    goto: str
    words: str
    """What the author calls the way: mostly the title of its step."""
    to: str
    """Label of the step, empty for a return."""
    mark: str


class ExitData(TypedDict):
    """How the work ends at a step."""

    title: str
    tagged: bool
    contact: str
    held: str
    guards: str
    live: bool


class ThenData(TypedDict):
    """How it goes on without a question; empty where the next step stands right below."""

    words: str
    to: str


def answers_data(view: StepView, scope: Scope) -> list[AnswerData]:
    """The answers of a step in the author's order."""
    return [_answer(view.step.answers[a.index], a, scope) for a in view.answers]


def _answer(answer: Answer, view: AnswerView, scope: Scope) -> AnswerData:
    return {
        "seen": inlines(answer.seen, scope),
        "words": printable(plain(answer.link.runs)),
        "goto": "go back" if view.back else f"step {view.number}",
        "to": view.target,
        "mark": _mark(answer.failure),
    }


def _mark(failure: Failure | None) -> str:
    if failure is None:
        return ""
    sources = ", ".join(n.text for n in failure.sources)
    return printable(f"{failure.mark.replace('-', ' ')}{': ' if sources else ''}{sources}")


def then_data(view: StepView, stage: StageView, scope: Scope) -> ThenData:
    """The jump, the return from a shared stage, or the next stage where a shared one stands between."""
    if view.go_to:
        return {"words": f"Go on with step {view.go_to_number}.", "to": view.go_to}
    if view.exit or view.answers or view is not stage.steps[-1]:
        return {"words": "", "to": ""}
    if stage.stage.shared:
        return {"words": BACK, "to": ""}
    stages = scope.view.stages
    following = stages[stages.index(stage) + 1 :]
    nearest = next((s for s in following if not s.stage.shared and s.steps), None)
    if nearest is None or following[0] is nearest:
        return {"words": "", "to": ""}
    return {"words": f"Go on with step {nearest.steps[0].number}.", "to": nearest.steps[0].anchor}


def exit_data(view: StepView, scope: Scope) -> ExitData | None:
    """How the work ends here; None where it goes on."""
    if not view.exit:
        return None
    tagged = fold(view.exit) == fold("left locked out, tagged")
    return {
        "title": EXITS.get(fold(view.exit), view.exit),
        "tagged": tagged,
        "contact": printable(scope.view.contact) if tagged else "",
        "held": printable(", ".join(view.held)),
        "guards": printable(", ".join(view.guards_off)),
        "live": view.treat_as_live,
    }
