"""One file of the demo library as text that can be edited at the places the reader found."""

from __future__ import annotations

from dataclasses import dataclass

from kilter.model.document import Document, Stage, Step
from kilter.model.text import Panel
from kilter.source import Span

Edit = tuple[int, int, str]
"""From and to offset, and what stands there instead."""


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change of one file."""

    path: str
    kind: str
    where: str
    """Slug of the step, or of the stage if `in_stage`."""
    in_stage: bool
    what: str
    """What was changed, in words; with kind and place it is the stable name of the change."""
    text: str
    starts: tuple[str, ...]
    """Slugs of the steps at which, or after which on the way, the mistake can show."""
    line: int


@dataclass(frozen=True)
class Page:
    """A read document and its text."""

    document: Document
    text: str

    def offset(self, line: int, column: int = 1) -> int:
        """Where a 1-based place is in the text; one past the last line is the end."""
        rows = self.text.split("\n")
        return min(sum(len(row) + 1 for row in rows[: line - 1]) + column - 1, len(self.text))

    def replace(self, span: Span, new: str) -> Edit:
        """Put words in the place of a span."""
        return self.offset(span.line, span.column), self.offset(span.end_line, span.end_column), new

    def rows(self, span: Span) -> str:
        """The whole rows of a span, with the last line end."""
        return self.text[self.offset(span.line) : self.offset(span.end_line + 1)]

    def cut(self, span: Span) -> Edit:
        """Take out the whole rows of a span."""
        return self.offset(span.line), self.offset(span.end_line + 1), ""

    def put(self, line: int, rows: str) -> Edit:
        """Put a block in front of a row."""
        return self.offset(line), self.offset(line), f"\n{rows}\n"

    def edited(self, *edits: Edit) -> str:
        """The text with edits that do not touch each other."""
        text = self.text + ("" if self.text.endswith("\n") else "\n")
        for start, end, new in sorted(edits, reverse=True):
            text = text[:start] + new + text[end:]
        return text

    def mutant(
        self, kind: str, part: Step | Stage, what: str, line: int, *edits: Edit, starts: tuple[str, ...] = ()
    ) -> Mutant:
        """A change at a step or stage; without `starts` the mistake shows there."""
        in_stage = isinstance(part, Stage)
        here = tuple(s.slug for s in part.steps) if isinstance(part, Stage) else (part.slug,)
        text = self.edited(*edits)
        return Mutant(self.document.path, kind, part.slug, in_stage, what, text, starts or here, line)


def below_heading(part: Step | Stage) -> int:
    """The row right below a heading and its fields."""
    rows = [f.span.end_line for f in part.fields if f.span.line <= part.heading_span.line + len(part.fields)]
    return max([part.heading_span.line, *rows]) + 1


def after_words(step: Step) -> int:
    """The row where one more sentence of a step can stand: before its answers, else at its end."""
    return step.answers[0].span.line if step.answers else step.span.end_line + 1


def neighbours(stage: Stage, step: Step) -> tuple[tuple[str, Step], ...]:
    """The step before and the step after in the same stage."""
    at = stage.steps.index(step)
    before = (("the step before", stage.steps[at - 1]),) if at else ()
    after = (("the step after", stage.steps[at + 1]),) if at + 1 < len(stage.steps) else ()
    return before + after


def names_of(panel: Panel) -> str:
    """The sources of a panel as words."""
    return ", ".join(n.text for n in panel.sources) or "no source"
