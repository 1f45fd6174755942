"""What there is to ask about: the covered steps of each document, with numbers, facts and energy states."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from kilter.check.flow import Analysis
from kilter.check.module import Covered, ModuleContext, number_of
from kilter.check.rule import Context
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.publish.training.questions.draw import Draw
from kilter.publish.training.questions.model import Choice, Cite, FigureRef, Question
from kilter.publish.view import DocumentView, StepView, view_of

TURNS = 60
"""A multiple of every number of choices."""


@dataclass(frozen=True)
class Asked:
    """A covered step as it is asked about."""

    covered: Covered
    view: StepView
    cite: Cite
    objectives: tuple[str, ...]

    @property
    def name(self) -> str:
        """Document and step, as a question names them."""
        return f"{self.cite.document}, step “{self.cite.title}”"


@dataclass(frozen=True)
class Subject:
    """One covered document."""

    context: ModuleContext
    document: Document
    profile: Document
    analysis: Analysis
    view: DocumentView
    steps: tuple[Asked, ...]
    """The covered ones, in the order of the document."""

    @property
    def number(self) -> str:
        return number_of(self.document)

    @cached_property
    def by_key(self) -> dict[str, Asked]:
        """By the key of the analysis."""
        return {asked.view.key: asked for asked in self.steps}

    def fact_id(self, asked: Asked, *more: object) -> str:
        """A name for a fact that no wording changes."""
        return ".".join((asked.covered.step.slug, *map(str, more)))

    def question(
        self,
        kind: str,
        asked: Asked,
        fact: str,
        serial: int,
        stem: str,
        choices: Iterable[Choice],
        key: int,
        *,
        safety: bool,
        ranked: bool = False,
        figure: FigureRef | None = None,
    ) -> Question:
        return Question(
            id=f"{kind}-{self.number}-{fact}-{serial}",
            kind=kind,
            stem=stem,
            choices=tuple(choices),
            key=key,
            safety=safety,
            cites=asked.cite,
            objectives=asked.objectives,
            figure=figure,
            fact=f"{self.number}#{fact}",
            ranked=ranked,
        )

    def draw(self, fact: str, canonical: str, template: str, serial: int) -> Draw:
        """Lots for one fact: nothing but the fact itself changes them."""
        return Draw(self.number, fact, canonical, template, serial)

    def turn(self, fact: str, kind: str, serial: int) -> int:
        """Which place the right choice takes: set by the fact for its first question, then it goes round."""
        return Draw(self.number, fact, kind, "turn").below(TURNS) + serial


def placed(draw: Draw, right: Choice, wrong: Iterable[Choice], turn: int) -> tuple[tuple[Choice, ...], int]:
    """Wrong choices in a drawn order, with the right one where it is its turn."""
    found = draw.shuffled(list(wrong))
    at = turn % (len(found) + 1)
    return (*found[:at], right, *found[at:]), at


def shuffled(draw: Draw, right: Choice, wrong: Iterable[Choice]) -> tuple[tuple[Choice, ...], int]:
    """Choices in a drawn order, and where the right one is."""
    found = draw.shuffled([right, *wrong])
    return tuple(found), found.index(right)


def subjects(context: ModuleContext) -> Iterator[Subject]:
    """Every covered document that is sound enough to ask about: it has a machine and no error about energy."""
    by_document: dict[str, list[Covered]] = {}
    for covered in context.covered.values():
        by_document.setdefault(fold(number_of(covered.document)), []).append(covered)
    for each in by_document.values():
        found = _subject(context, each)
        if found is not None:
            yield found


def _subject(context: ModuleContext, covered: list[Covered]) -> Subject | None:
    library, document = context.library, covered[0].document
    profile = library.profile_of(document)
    if profile is None:
        return None
    analysis = Context(library, document, profile).analysis
    if not analysis.runs or any(str(d.severity) == "error" for d in analysis.findings):
        return None
    view = view_of(library, document, analysis, "")
    views = {(s.owner.path, s.step.slug): s for stage in view.stages for s in stage.steps}
    steps = []
    for each in covered:
        shown, facts = views.get((each.owner.path, each.step.slug)), context.facts(each)
        if shown is None or facts is None:
            continue
        cite = Cite(
            number_of(document), view.front.revision, shown.anchor, shown.number, each.step.title, facts.short
        )
        steps.append(Asked(each, shown, cite, context.objectives_of(each)))
    return Subject(context, document, profile, analysis, view, tuple(steps))
