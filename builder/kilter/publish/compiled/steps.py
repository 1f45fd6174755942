"""From the view's stages and steps to those of a compiled document."""

from __future__ import annotations

from decimal import Decimal

from kilter.compute import value
from kilter.compute.display import in_other_system
from kilter.compute.quantity import parse_quantity
from kilter.compute.reading import parse_reading
from kilter.model.base import fold
from kilter.model.document import EFFECTS, VALUES
from kilter.model.text import Role, plain
from kilter.publish.compiled.blocks import Blocks, runs
from kilter.publish.compiled.data import Answer, Effect, MarkedValue, Quantity, Stage, State, Step
from kilter.publish.view import (
    EXITS,
    AnswerView,
    DocumentView,
    StageView,
    StepView,
    hands_reason,
    shown_fields,
)

DONE = (*(e for e in EFFECTS if e not in VALUES), "all-clear", "tests")
"""Marks of what is done; a wait has a value and stands among those."""


def stages(view: DocumentView, blocks: Blocks) -> tuple[Stage, ...]:
    """All stages, each step with the number of the one that follows."""
    return tuple(_stage(view, n, blocks) for n in range(len(view.stages)))


def _stage(view: DocumentView, index: int, blocks: Blocks) -> Stage:
    stage = view.stages[index]
    return Stage(
        number=stage.number,
        title=stage.stage.title,
        anchor=stage.anchor,
        shared=stage.stage.shared,
        borrowed=stage.borrowed,
        notes=shown_fields(stage.stage),
        standing=tuple(blocks.panel(panel) for panel in stage.standing),
        blocks=blocks.all(stage.stage.blocks),
        steps=tuple(_step(view, index, n, blocks) for n in range(len(stage.steps))),
    )


def _step(view: DocumentView, index: int, n: int, blocks: Blocks) -> Step:
    stage = view.stages[index]
    step, following = stage.steps[n], _following(view.stages, index, n)
    roles = step.step.roles
    return Step(
        number=step.number,
        anchor=step.anchor,
        key=step.key,
        title=step.step.title,
        hands=step.hands,
        hands_reason=hands_reason(step.step),
        notes=shown_fields(step.step),
        states=tuple(State(source=m.source, state=m.state) for m in step.strip),
        blocks=blocks.all(step.step.blocks),
        effects=tuple(Effect(effect=r.name, names=blocks.names(r.names)) for r in roles if r.name in DONE),
        values=tuple(_value(role) for role in roles if role.name in VALUES),
        origin=step.origin,
        tools=_named(roles, "tool"),
        parts=_named(roles, "part"),
        figures=tuple(blocks.number(figure) for figure in step.step.figures),
        answers=tuple(_answer(step, answer, blocks) for answer in step.answers),
        does=step.do_label.split(" ", 1)[0],
        go_to=step.go_to_number,
        next=following if _just_goes_on(step) else "",
        back=_just_goes_on(step) and not following,
        exit=EXITS.get(fold(step.exit), step.exit),
        held=step.held,
        guards_off=step.guards_off,
        treat_as_live=step.treat_as_live,
    )


def _just_goes_on(step: StepView) -> bool:
    return not (step.exit or step.answers or step.go_to)


def _following(stages: tuple[StageView, ...], index: int, n: int) -> str:
    """Number of the next step in order; empty at the end of a shared stage, which leads back."""
    if n + 1 < len(stages[index].steps):
        return stages[index].steps[n + 1].number
    if stages[index].stage.shared:
        return ""
    return next((s.steps[0].number for s in stages[index + 1 :] if not s.stage.shared and s.steps), "")


def _named(roles: tuple[Role, ...], mark: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name.text for role in roles if role.name == mark for name in role.names))


def _answer(step: StepView, answer: AnswerView, blocks: Blocks) -> Answer:
    given = step.step.answers[answer.index]
    return Answer.model_validate(
        {
            "text": plain(given.seen),
            "runs": runs(given.seen),
            "link": plain(given.link.runs),
            "to": answer.number,
            "back": answer.back,
            "failed": given.failure.mark if given.failure else "",
            "failedSources": blocks.names(given.failure.sources) if given.failure else (),
        }
    )


def _value(role: Role) -> MarkedValue:
    """The document has no errors, so its values can be read."""
    reading = parse_reading(role.text) if role.name == "read" else None
    quantity = reading.quantity if reading else parse_quantity(role.text)
    return MarkedValue.model_validate(
        {
            "mark": role.name,
            "text": role.text,
            "phase": reading.phase if reading else None,
            "name": reading.name if reading else "",
            "quantity": _quantity(quantity),
            "otherSystem": in_other_system(quantity, reading.name if reading else "") or "",
        }
    )


def _quantity(given: value.Quantity) -> Quantity:
    return Quantity(
        form=given.form,
        unit=given.unit.symbol,
        dimension=given.dimension,
        nominal=_number(given.nominal),
        low=_number(given.low),
        high=_number(given.high),
    )


def _number(given: Decimal | None) -> float | None:
    """At most 12 digits are read, so a double holds every one of them."""
    return None if given is None else float(given)
