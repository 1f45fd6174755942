"""A training module under check, with what it leans on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from kilter.check.picturehash import picture_hashes
from kilter.compute.stepfacts import StepFacts, step_facts
from kilter.model.base import fold
from kilter.model.document import Document, Stage, Step
from kilter.model.library import Library
from kilter.model.training import Module, split_reference


@dataclass(frozen=True)
class Covered:
    """A step that a module teaches, in the document that leads there."""

    document: Document
    owner: Document
    """Where the step stands: the document, or its equipment profile."""
    stage: Stage
    step: Step

    @property
    def key(self) -> str:
        """`NUMBER#step`, as it is written in a module."""
        return f"{number_of(self.document)}#{self.step.slug}"


def number_of(document: Document) -> str:
    """The number as the document writes it."""
    return str(getattr(document.front, "number", ""))


@dataclass(frozen=True)
class ModuleContext:
    """One training module under check."""

    library: Library
    module: Module

    def document(self, number: str) -> Document | None:
        return self.library.number(number)

    def steps_of(self, document: Document) -> Iterator[Covered]:
        """Every step of a document and, after them, those of its machine's shared stages that it does."""
        return steps_of(self.library, document)

    def find(self, reference: str) -> tuple[Covered, ...]:
        """The steps that `NUMBER` or `NUMBER#step` names; none where there is no such document or step."""
        number, slug = split_reference(reference)
        document = self.document(number)
        if document is None:
            return ()
        return tuple(c for c in self.steps_of(document) if not slug or c.step.slug == slug)

    @cached_property
    def covered(self) -> dict[str, Covered]:
        """All steps that the module covers, by `NUMBER#step`, in order."""
        found: dict[str, Covered] = {}
        for reference in self.module.front.covers:
            for covered in self.find(reference):
                found.setdefault(covered.key, covered)
        return found

    def facts(self, covered: Covered) -> StepFacts | None:
        """Facts of a covered step; None where its machine is not known."""
        return facts_of(self.library, covered)

    def objectives_of(self, covered: Covered) -> tuple[str, ...]:
        """Ids of the objectives that lean on a step; one without references leans on all."""
        number = fold(number_of(covered.document))
        found = []
        for name, objective in self.module.front.objectives.items():
            pairs = [split_reference(r) for r in objective.covers]
            if not pairs or any(fold(n) == number and s in ("", covered.step.slug) for n, s in pairs):
                found.append(name)
        return tuple(found)


def steps_of(library: Library, document: Document) -> Iterator[Covered]:
    """Every step of a document and, after them, those of its machine's shared stages that it does."""
    yield from (Covered(document, document, stage, step) for stage, step in document.all_steps())
    profile = library.profile_of(document)
    if profile is None:
        return
    for stage in profile.stages:
        if stage.shared and stage.slug in _asked_for(document, profile):
            yield from (Covered(document, profile, stage, step) for step in stage.steps)


def facts_of(library: Library, covered: Covered) -> StepFacts | None:
    """Facts of a step; None where its machine is not known."""
    profile = library.profile_of(covered.document)
    if profile is None:
        return None
    pictures = picture_hashes(library, covered.owner)
    return step_facts(covered.step, covered.stage, covered.owner, profile, pictures)


def _asked_for(document: Document, profile: Document) -> set[str]:
    """Slugs of shared stages that a document does, also those asked for by a shared stage of the machine."""
    found: set[str] = set()
    waiting = [f.value for _, step in document.all_steps() if (f := step.field("do"))]
    while waiting:
        name = waiting.pop().removeprefix("#")
        if name in found or name not in profile.shared_stages:
            continue
        found.add(name)
        waiting += [f.value for step in profile.shared_stages[name].steps if (f := step.field("do"))]
    return found
