"""The form of a compiled document; its JSON and its schema are these values, nothing else.

Everything is there: what does not apply is an empty string, an empty list, false or null.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from kilter.compute.value import Form as Written
from kilter.publish.compiled.text import Block, Form, Panel, Words

VERSION: Literal["1"] = "1"

StepNumber = Annotated[str, Field(description="Number of a step, such as `4.2` or `A.1`; empty for none.")]


class Quantity(Form):
    """A value taken apart. Limits are in `unit`; null where there is none on that side."""

    form: Written
    """How it was written: a range, a limit, a tolerance."""
    unit: str
    """As printed; empty for a plain number."""
    dimension: str
    nominal: float | None
    low: float | None
    high: float | None


class MarkedValue(Form):
    """A value of a step: a torque, a setting, a reading, a wait."""

    mark: Literal["torque", "set", "read", "wait"]
    text: str
    """As written."""
    phase: Literal["as found", "as left"] | None
    name: str
    """What is read; empty where it has no name."""
    quantity: Quantity
    other_system: str
    """The value in the other system of units, rounded inward; empty where both systems share it."""


class Effect(Form):
    """What a step does to the machine, in order: `isolates battery`."""

    effect: str
    names: tuple[str, ...]


class State(Form):
    """What must be true of a source before a step, or how to treat it; sources not named are out of reach."""

    source: str
    state: str


class Answer(Words):
    """What is seen, and the one step that follows."""

    link: str
    """Words of the link, as a rule the title of the step."""
    to: StepNumber
    back: bool
    """Back to the step that asked for this shared stage, and on from there."""
    failed: Literal["", "not-zero", "not-ok"]
    failed_sources: tuple[str, ...]
    """Sources that were not proved; empty means those of the step."""


class Step(Form):
    """One step. How it goes on: one of `answers`, `exit`, `goTo`, `next`, `back`; `does` comes before that."""

    number: str
    anchor: str
    """Its place on the document's page."""
    key: str
    """Slug of the step; a step of the equipment profile has the profile's id and a colon before it."""
    title: str
    hands: str
    hands_reason: str
    notes: tuple[str, ...]
    """Zone, what is out of reach and why, switch: as typed, each under its label."""
    states: tuple[State, ...]
    blocks: tuple[Block, ...]
    effects: tuple[Effect, ...]
    values: tuple[MarkedValue, ...]
    origin: str
    """Where the values come from."""
    tools: tuple[str, ...]
    parts: tuple[str, ...]
    figures: tuple[int, ...]
    answers: tuple[Answer, ...]
    does: str
    """Number of the shared stage that is done here first; empty for none."""
    go_to: StepNumber
    next: StepNumber
    back: bool
    exit: str
    held: tuple[str, ...]
    """At a tagged exit: sources that are locked or held there."""
    guards_off: tuple[str, ...]
    """At a tagged exit: guards that may be off there."""
    treat_as_live: bool


class Stage(Form):
    """One stage in the order of the page."""

    number: str
    title: str
    anchor: str
    shared: bool
    """Done only where a step asks for it."""
    borrowed: bool
    """It stands in the equipment profile."""
    notes: tuple[str, ...]
    standing: tuple[Panel, ...]
    """Panels of the whole document that this stage needs again."""
    blocks: tuple[Block, ...]
    steps: tuple[Step, ...]


class Source(Form):
    """One energy source of the machine."""

    name: str
    kind: str
    word: Literal["danger", "warning", "caution"]
    lockable: bool
    fed_by: tuple[str, ...]
    charged_by: tuple[str, ...]
    isolate: str
    release: str
    prove: str


class Kit(Form):
    """A tool or a part; empty where nothing is declared."""

    kind: Literal["tool", "part"]
    name: str
    quantity: str
    range: str
    accuracy: str
    calibration: str
    stock_number: str
    new: str


class Item(Form):
    """A numbered item; x and y in pixels of the upright picture, from its upper left."""

    number: int
    x: float
    y: float
    label: str


class Motion(Form):
    """A movement that an arrow shows; x and y as of an item."""

    kind: Literal["turn", "push", "pull", "slide"]
    x: float
    y: float
    way: str
    amount: str


class Scale(Form):
    """A known length between two places of the picture."""

    length: str
    start: tuple[float, float]
    end: tuple[float, float]


class Area(Form):
    """A rectangle in pixels of the whole upright picture, from its upper left."""

    x: int
    y: int
    width: int
    height: int


class Detail(Form):
    """A part of the picture that is shown again in one of its corners, so many times as large."""

    area: Area
    place: str
    times: float


class Drawing(Form):
    """One picture and what is shown of it and over it."""

    path: str
    """Of the picture, from where the command was run."""
    sha256: str
    width: int
    height: int
    alt: str
    looked: str
    """What its author looked for in a photograph: people, names, labels."""
    crop: Area | None
    """All that is shown of the picture."""
    covers: tuple[Area, ...]
    details: tuple[Detail, ...]
    items: tuple[Item, ...]
    motions: tuple[Motion, ...]
    scale: Scale | None


class Figure(Drawing):
    """A picture with its numbered items; of a pair the one before, and in `after` the other."""

    number: int
    id: str
    after: Drawing | None
    caption: tuple[Block, ...]


class Symptom(Form):
    symptom: str
    also: tuple[str, ...]
    """Other words for it, searched but never printed."""


class Equipment(Form):
    id: str
    title: str


class Compiled(Form):
    """A procedure or pre-use check without errors, with what it borrows from its equipment profile."""

    version: Literal["1"]
    number: str
    revision: str
    hash: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    """Content hash: two with one hash say the same thing."""
    status: Literal["draft"]
    """Nothing here says that somebody has approved it."""
    kind: Literal["procedure", "pre-use-check"]
    task: str
    title: str
    path: str
    page: str
    """Address of its page within the site."""
    equipment: Equipment
    applies_to: tuple[str, ...]
    date: str
    writers: tuple[str, ...]
    minutes: int | None
    people: int | None
    kilograms: float | None
    """Lifted at once."""
    protective: tuple[str, ...]
    symptoms: tuple[Symptom, ...]
    standing: str
    """Said with every document, wherever it is shown."""
    sources: tuple[Source, ...]
    kit: tuple[Kit, ...]
    blocks: tuple[Block, ...]
    stages: tuple[Stage, ...]
    figures: tuple[Figure, ...]
