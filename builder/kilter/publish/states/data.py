"""The table of states as plain values; the JSON and its schema are these values, nothing else."""

from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict
from pydantic.alias_generators import to_camel

from kilter.model.base import Value

VERSION: Literal["1"] = "1"

InForce = Literal["on every way", "on some ways", "on no way"]


class Data(Value):
    """A value whose keys are written in JSON as those of the findings are."""

    model_config = ConfigDict(frozen=True, extra="forbid", alias_generator=to_camel, populate_by_name=True)


class Stop(Data):
    """A step on a way in, and the answer taken there (empty where there is none)."""

    number: str
    title: str
    answer: str


class SourceLine(Data):
    """One source before one step."""

    source: str
    word: str
    """Signal word of the profile: `danger`, `warning`, `caution` or `notice`."""
    level: int
    """0 live, 1 isolated and still charged, 2 released, 3 proved zero: the worst on any way in."""
    worst: str
    """The same in readers' words."""
    best_level: int
    """The best on any way in."""
    best: str
    held: bool
    """Our lock, pin or prop is on, whichever way one comes."""
    needs_level: int
    needs: str
    """What the hands of the step ask, with exemptions; empty where they ask nothing."""
    without_reason: str
    """What they would ask without the exemption; empty where there is none."""
    reason: str
    """Why the source is explained away; empty where it is not."""
    caution_asked: bool
    """The hands of the step ask that a caution about it has been read."""
    caution: InForce
    """Whether a panel of at least the profile's word has been read."""
    worst_way: tuple[Stop, ...]
    """A way that leaves the worst state, its telling stops; empty where no way does better."""

    @property
    def varies(self) -> bool:
        return self.best_level != self.level


class Unmet(Data):
    """Something that the step asks and that some way in does not give."""

    rule: str
    source: str
    """Empty where it is about no source."""


class Link(Data):
    """A way on from one step to another, in whatever call."""

    start: str
    """Number of the step."""
    to: str
    answer: str
    failed: bool
    kind: str
    """`same` and `stage` go on, `call` enters a shared stage, `back` returns, `leave` ends the call for good."""


class Origin(Data):
    """The values of a step and where they come from; an empty origin is for the reviewer to ask about."""

    values: tuple[str, ...]
    origin: str


class StepLine(Data):
    """One step: what it exposes, what holds before it, how one gets there."""

    number: str
    key: str
    """Slug of the step; a step of the equipment profile has the profile's id and a colon before it."""
    anchor: str
    """Its place on the document's page."""
    title: str
    hands: str
    hands_reason: str
    exit: str
    does: str
    """Number of the shared stage that is done here."""
    reached: bool
    sources: tuple[SourceLine, ...]
    guards_off: tuple[str, ...]
    """Guards that may be off."""
    unmet: tuple[Unmet, ...]
    way: tuple[Stop, ...]
    """A shortest way in: its telling stops, or every step where one step was asked for."""
    origins: Origin | None


class StageLine(Data):
    """One stage in the order of the page."""

    number: str
    title: str
    shared: bool
    steps: tuple[StepLine, ...]


class States(Data):
    """All of it for one document."""

    version: Literal["1"]
    path: str
    number: str
    revision: str
    title: str
    equipment: str
    errors: int
    """Errors that the check has found; with any, the document is not accepted."""
    proved: bool
    """False where the states could not be worked out to the end."""
    stages: tuple[StageLine, ...]
    links: tuple[Link, ...]

    @property
    def steps(self) -> tuple[StepLine, ...]:
        return tuple(step for stage in self.stages for step in stage.steps)
