"""Where a step leads to: its answers, its `:go-to:`, the links in its text, the shared stage that it does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from kilter.check.lookup import links
from kilter.check.once import once
from kilter.check.rule import Context
from kilter.model.document import Document, Stage, Step
from kilter.source import Span

BACK = "back"
"""The target that returns from a shared stage."""


@dataclass(frozen=True)
class Target:
    """One place that names a step; `step` is the one that leads there, None above the first step."""

    how: Literal["answer", "go-to", "text"]
    stage: Stage | None
    step: Step | None
    written: str
    span: Span

    @property
    def slug(self) -> str:
        return self.written.removeprefix("#")


@once(most=4)
def step_targets(document: Document) -> tuple[Target, ...]:
    """Everything in a document that should lead to a step of it."""
    return (*_of_steps(document), *_of_text(document))


def _of_steps(document: Document) -> Iterator[Target]:
    for stage, step in document.all_steps():
        for answer in step.answers:
            yield Target("answer", stage, step, answer.link.target, answer.link.target_span)
        if (field := step.field("go-to")) is not None:
            yield Target("go-to", stage, step, field.value, field.value_span)


def _of_text(document: Document) -> Iterator[Target]:
    for at, inside, link in links(document):
        if link.target.startswith("#"):
            yield Target("text", at, inside, link.target, link.target_span)


def home(document: Document) -> dict[str, Stage]:
    """The stage that each step stands in, by the step's slug."""
    return {step.slug: stage for stage, step in document.all_steps()}


def shared_stages(context: Context) -> dict[str, Stage]:
    """What `:do:` can name here: shared stages of the document, and those of its profile."""
    profile = context.profile.shared_stages if context.profile is not None else {}
    return {**profile, **context.document.shared_stages}
