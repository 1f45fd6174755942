"""The form of `kilter check --format json`, for its schema; the report itself writes plain values."""

from __future__ import annotations

from typing import Literal

from pydantic import ConfigDict, Field
from pydantic.alias_generators import to_camel

from kilter.model.base import Value


class Form(Value):
    """A value whose keys are written in camel case."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=to_camel,
        populate_by_name=True,
        use_attribute_docstrings=True,
    )


class Place(Form):
    """A stretch of a file: lines and columns count from 1, columns in characters, the end is just after it."""

    path: str
    line: int = Field(ge=1)
    column: int = Field(ge=1)
    end_line: int = Field(ge=1)
    end_column: int = Field(ge=1)


class Related(Form):
    """A further place, and what it has to do with the finding."""

    place: Place
    text: str


class Stop(Form):
    """One stop on the way that leads to the finding."""

    step: str
    """Title of the step."""
    answer: str
    """What was seen there; empty where the step goes on by itself."""
    skipped: int = Field(ge=0)
    """Steps left out just before this one."""
    place: Place | None


class Edit(Form):
    """A stretch of a file and the text that takes its place; an empty stretch is an insertion."""

    place: Place
    text: str


class Fix(Form):
    """One way to mend a finding; its edits are made together."""

    title: str
    alone: bool
    """Whether it may be applied with nobody choosing."""
    leaves_blank: bool
    """Whether it writes a marked blank, which stays an error until a person has filled it."""
    edits: tuple[Edit, ...] = Field(min_length=1)


class Finding(Form):
    """One finding: exactly one place, any number of related ones."""

    rule: str
    """Name of the rule, as in `kilter explain NAME`."""
    code: str
    """Code of the rule, such as K703."""
    severity: Literal["hint", "warning", "error"]
    message: str
    place: Place
    help: str
    """What to write, and where."""
    why: str
    """What could happen."""
    related: tuple[Related, ...]
    way: tuple[Stop, ...]
    """How one gets there, for findings about paths."""
    fixes: tuple[Fix, ...]
    """Ways to mend it that a program can apply, the likeliest first."""


class GoneEntry(Form):
    """An entry of the baseline whose finding no longer occurs."""

    rule: str
    path: str
    line: int = Field(ge=1)
    """Of the baseline file."""


class PutOff(Form):
    """What a baseline did."""

    file: str
    put_off: int = Field(ge=0)
    """Old findings that are left out of `findings`."""
    gone: tuple[GoneEntry, ...]


class Findings(Form):
    """The whole report; only a finding of severity `error` refuses a document."""

    version: Literal["1"]
    files: int = Field(ge=0)
    """Files that were checked."""
    findings: tuple[Finding, ...]
    """In order of place."""
    baseline: PutOff | None
