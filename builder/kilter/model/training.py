"""A training module: what is taught, to whom, and from which documents it is taken."""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field

from kilter.model.base import Record, Value, fold
from kilter.model.document import Allowance
from kilter.model.document import Field as WrittenField
from kilter.model.front import (
    CommonFront,
    DocumentNumber,
    Places,
    Revision,
    Words,
)
from kilter.model.text import Block
from kilter.source import Span

LEAST_PASS_MARK = 50
"""Below this a paper of four choices says little more than guessing does."""


def _reference(text: str) -> str:
    number, mark, step = text.partition("#")
    if not number.strip() or (mark and not step.strip()):
        raise ValueError("a document's number, or a step of it such as LFT-120#prove-zero")
    return text


Reference = Annotated[str, AfterValidator(_reference)]


def _one_or_more(given: object) -> object:
    return given if isinstance(given, (list, tuple)) else [given]


References = Annotated[tuple[Reference, ...], BeforeValidator(_one_or_more)]
Minutes = Annotated[int, Field(ge=1, le=6000)]


class Objective(Value):
    """What a trainee can do afterwards, in words that begin with a verb that can be observed."""

    text: Words
    covers: References = ()
    """Documents and steps it is shown by; none: all that the module covers."""


class PaperPlan(Value):
    """The written paper."""

    questions: Annotated[int, Field(ge=1, le=200)] = 20
    forms: Annotated[int, Field(ge=1, le=8)] = 1
    """Parallel papers of other questions or another order, so that neighbours can't copy."""
    minutes: Minutes | None = None
    """How long it may take; two minutes a question where nothing is said."""


class TrainingFront(CommonFront):
    """Front matter of a training module."""

    kind: Literal["training"]
    number: DocumentNumber
    revision: Revision
    covers: References
    objectives: dict[str, Objective]
    audience: Words | None = None
    sessions: Annotated[tuple[Minutes, ...], BeforeValidator(_one_or_more)] = ()
    """Minutes of each session, such as two half-days."""
    trainees: Annotated[int, Field(ge=1, le=500)] = 1
    machines: Annotated[int, Field(ge=1, le=100)] = 1
    """Training machines that are worked at side by side."""
    practical: Minutes | None = None
    """Minutes a trainee has at a machine."""
    pass_mark: Annotated[int, Field(ge=LEAST_PASS_MARK, le=100)] = Field(80, alias="pass-mark")
    """Percent of the paper; questions of safety must all be right besides."""
    paper: PaperPlan = PaperPlan()
    revalidate: Annotated[int, Field(ge=1, le=120)] | None = None
    """Months until it has to be shown again."""
    confirmed: dict[str, Words] = Field(default_factory=dict)
    """Step, as `NUMBER#step`, to the hash of its facts that the educator has looked at."""


TakenPart = Literal["step", "figure", "panels", "values", "energy", "kit"]
TAKEN_PARTS: tuple[TakenPart, ...] = ("step", "figure", "panels", "values", "energy", "kit")


class Taken(Record):
    """`:::{from} NUMBER#step`: something that stands in a document and is shown here as it stands there."""

    kind: Literal["taken"] = "taken"
    number: str
    step: str
    """Slug of the step; empty where the whole document is meant."""
    part: TakenPart
    figure: str
    """Id of the figure, for the part `figure`."""
    caption: tuple[Block, ...]
    """Own words about it."""
    span: Span
    place: Span
    """Where it is named."""


class OwnChoice(Record):
    """A choice of an own question, with why it is right or wrong."""

    text: str
    why: str
    right: bool
    span: Span


class OwnQuestion(Record):
    """`:::{question} objective`: a question that the educator wrote."""

    kind: Literal["question"] = "question"
    objective: str
    id: str
    safety: bool
    choices: tuple[OwnChoice, ...]
    """In the order written."""
    stem: tuple[Block, ...]
    span: Span
    place: Span
    """Where its objective is named."""


class Fault(Record):
    """`:::{fault} NUMBER`: a fault that the trainer sets on a training machine; trainees do not see it."""

    kind: Literal["fault"] = "fault"
    number: str
    """Of the document that finds and mends it."""
    sets: str
    """How it is set."""
    shows: str
    """What the trainee will see; empty where nothing is said."""
    undo: str
    prove: str
    """How it is shown that the machine is whole again."""
    notes: tuple[Block, ...]
    span: Span
    place: Span
    """Where the number is named."""


LessonBlock = Block | Taken | OwnQuestion | Fault


class Part(Record):
    """An H3 of a lesson."""

    title: str
    blocks: tuple[LessonBlock, ...]
    span: Span
    heading_span: Span


class Lesson(Record):
    """An H2 with what stands under it."""

    title: str
    slug: str
    fields: tuple[WrittenField, ...]
    minutes: int | None
    objectives: tuple[str, ...]
    """Ids, as written."""
    blocks: tuple[LessonBlock, ...]
    parts: tuple[Part, ...]
    span: Span
    heading_span: Span

    @cached_property
    def all_blocks(self) -> tuple[LessonBlock, ...]:
        return (*self.blocks, *(b for part in self.parts for b in part.blocks))


class Module(Record):
    """One training file, read."""

    path: str
    front: TrainingFront
    places: Places
    title: str | None
    title_span: Span
    blocks: tuple[LessonBlock, ...]
    """What stands above the first lesson."""
    lessons: tuple[Lesson, ...]
    allowances: tuple[Allowance, ...]
    first_row_span: Span

    @property
    def key(self) -> str:
        """The number, folded: unique in a library."""
        return fold(self.front.number)

    @cached_property
    def all_blocks(self) -> tuple[LessonBlock, ...]:
        return (*self.blocks, *(b for lesson in self.lessons for b in lesson.all_blocks))

    @cached_property
    def taken(self) -> tuple[Taken, ...]:
        return tuple(b for b in self.all_blocks if isinstance(b, Taken))

    @cached_property
    def questions(self) -> tuple[OwnQuestion, ...]:
        return tuple(b for b in self.all_blocks if isinstance(b, OwnQuestion))

    @cached_property
    def leans_on(self) -> tuple[str, ...]:
        """Numbers of the documents that it covers, takes from or sets a fault for, as written, in order."""
        named = [split_reference(r)[0] for r in self.front.covers]
        named += [t.number for t in self.taken] + [f.number for f in self.faults]
        return tuple(dict.fromkeys(named))

    @cached_property
    def faults(self) -> tuple[Fault, ...]:
        return tuple(b for b in self.all_blocks if isinstance(b, Fault))


def split_reference(text: str) -> tuple[str, str]:
    """Number and slug of `NUMBER#step`; the slug is empty where none is named."""
    number, _, step = text.partition("#")
    return number.strip(), step.strip()
