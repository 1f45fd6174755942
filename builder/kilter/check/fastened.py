"""The torques of a document with the screw, the friction and the calculation that belong to each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from kilter.check.calculated import calculated, fields_of
from kilter.check.marked import Marked, readable
from kilter.check.once import once
from kilter.check.rule import Context
from kilter.compute.calculation import InputError, read_inputs
from kilter.compute.value import Quantity
from kilter.model.document import Field, Stage, Step
from kilter.model.library import Library
from kilter.model.text import Calculation
from kilter.read.blanks import BLANK_MARK

if TYPE_CHECKING:  # tables of screws are loaded only where a document names one
    from kilter.compute.fastener import Fastener, FastenerError
    from kilter.compute.fastener_friction import Friction


@dataclass(frozen=True, slots=True)
class Fastened:
    """One torque that can be read."""

    marked: Marked
    torque: Quantity
    field: Field | None
    """Names the screw: the step's, else the stage's."""
    fastener: Fastener | None
    friction: Friction | None
    worked: Mapping[str, Any]
    """What the torque calculation of the same step was given; empty where there is none."""

    @property
    def possible(self) -> bool:
        """Whether screw and friction go together, so that a preload can be worked out."""
        if self.fastener is None:
            return False
        from kilter.compute.fastener_friction import impossible

        return self.friction is None or not impossible(self.friction, self.fastener.thread)

    @property
    def lever(self) -> float:
        """Torque on the screw over torque indicated, where the calculation knows of an extension."""
        if not self.worked:
            return 1.0
        from kilter.compute.torque_tool_lines import lever_of

        try:
            return lever_of(self.worked)
        except InputError:
            return 1.0


@once(most=4)
def fastened(context: Context) -> tuple[Fastened, ...]:
    """Every torque, in order."""
    return tuple(_one(context, marked, torque) for marked, torque in readable(context, "torque"))


def field_of(stage: Stage, step: Step, name: str) -> Field | None:
    """A field that holds for a step: its own, else that of its stage."""
    return step.field(name) or stage.field(name)


def fastener_in(field: Field | None) -> Fastener | None:
    """The screw that a field names; None where it can't be read, which is said once."""
    if field is None:
        return None
    from kilter.compute.fastener import FastenerError, parse_fastener

    try:
        return parse_fastener(field.value)
    except FastenerError:
        return None


def friction_in(field: Field | None) -> Friction | None:
    """The friction that a field states; None where it can't be read, which is said once."""
    if field is None:
        return None
    from kilter.compute.fastener import FastenerError
    from kilter.compute.fastener_friction import parse_friction

    try:
        return parse_friction(field.value)
    except FastenerError:
        return None


def unreadable(context: Context) -> Iterator[tuple[Field, FastenerError]]:
    """The fields that name no screw or friction, but for blanks, which are reported as such."""
    for field in context.document.all_fields:
        if BLANK_MARK in field.value or field.name not in ("fastener", "friction"):
            continue
        from kilter.compute.fastener import FastenerError, parse_fastener
        from kilter.compute.fastener_friction import parse_friction

        try:
            (parse_fastener if field.name == "fastener" else parse_friction)(field.value)
        except FastenerError as trouble:
            yield field, trouble


def _one(context: Context, marked: Marked, torque: Quantity) -> Fastened:
    field = field_of(marked.stage, marked.step, "fastener")
    friction = friction_in(field_of(marked.stage, marked.step, "friction"))
    worked = _worked(marked.step, context.library)
    fastener = fastener_in(field)
    if field is None and "fastener" in worked:
        from kilter.compute.fastener import parse_fastener
        from kilter.compute.fastener_friction import parse_friction

        fastener = parse_fastener(worked["fastener"])
        friction = friction or (parse_friction(worked["friction"]) if "friction" in worked else None)
    return Fastened(marked, torque, field, fastener, friction, worked)


def _worked(step: Step, library: Library) -> Mapping[str, Any]:
    """Of a step that tightens one thing only: of several it can't be told which one is meant."""
    if sum(role.name == "torque" for role in step.roles) != 1:
        return {}
    for block in step.calculations:
        if block.name == "torque" and not isinstance(calculated(block, library), InputError):
            return _read(block)
    return {}


def _read(block: Calculation) -> dict[str, Any]:
    texts: dict[str, list[str]] = {}
    for given in block.given:
        texts.setdefault(given.name, []).append(given.value)
    return read_inputs(fields_of(block.name), texts)
