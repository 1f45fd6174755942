"""One Markdown file: its front matter, stages and steps."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property

from kilter.model.base import Record, fold
from kilter.model.front import Front, Places, ProcedureFront, ProfileFront
from kilter.model.text import Block, Calculation, Figure, Link, Name, Panel, Role, Run, all_runs, plain, walk
from kilter.source import Span

EFFECTS = ("isolates", "releases", "proves", "restores", "runs-on", "loads", "wait", "removes", "refits")
"""Marks that change or need the state of a machine; with `all-clear` and `tests` below."""
VALUES = ("torque", "set", "read", "wait")
REFERENCES = ("tool", "part", "item")
ROLES = (*dict.fromkeys((*EFFECTS, "all-clear", "tests", *VALUES, *REFERENCES)),)


class Field(Record):
    """`:name: value` under a heading."""

    name: str
    value: str
    span: Span
    """The whole line."""
    name_span: Span
    value_span: Span


def _field(fields: tuple[Field, ...], name: str) -> Field | None:
    for field in fields:
        if field.name == name:
            return field
    return None


class Failure(Record):
    """`{not-zero}` or `{not-ok}` after an answer."""

    mark: str
    sources: tuple[Name, ...]
    span: Span


class Answer(Record):
    """What is seen, and the one step that follows."""

    seen: tuple[Run, ...]
    link: Link
    failure: Failure | None
    span: Span
    bullet: str
    """The sign that its item begins with: another one would begin a new list."""

    @property
    def words(self) -> str:
        return plain(self.seen)

    @property
    def target(self) -> str:
        return self.link.target.removeprefix("#")


class Reason(Record):
    """`name - why`: a field that has to say why."""

    name: str
    why: str
    span: Span
    why_span: Span


class Step(Record):
    """An H3 and all that stands under it."""

    title: str
    slug: str
    fields: tuple[Field, ...]
    blocks: tuple[Block, ...]
    """Everything but the answers, in the author's order."""
    answers: tuple[Answer, ...]
    span: Span
    heading_span: Span
    end_span: Span
    """The last row with text: where something can be added after it."""

    def field(self, name: str) -> Field | None:
        return _field(self.fields, name)

    @cached_property
    def roles(self) -> tuple[Role, ...]:
        """Marks in reading order; those inside panels, figures and calculations do not count as done."""
        text = [r for r in all_runs(self._instruction) if isinstance(r, Role)]
        seen = [r for a in self.answers for r in walk(a.seen) if isinstance(r, Role)]
        return (*text, *seen)

    @property
    def _instruction(self) -> tuple[Block, ...]:
        return tuple(b for b in self.blocks if not isinstance(b, (Panel, Figure, Calculation)))

    @cached_property
    def panels(self) -> tuple[Panel, ...]:
        return tuple(b for b in self.blocks if isinstance(b, Panel))

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        return tuple(b for b in self.blocks if isinstance(b, Figure))

    @cached_property
    def calculations(self) -> tuple[Calculation, ...]:
        return tuple(b for b in self.blocks if isinstance(b, Calculation))

    @cached_property
    def links(self) -> tuple[Link, ...]:
        return tuple(r for r in all_runs(self.blocks) if isinstance(r, Link))


class Stage(Record):
    """An H2 and its steps."""

    title: str
    slug: str
    shared: bool
    fields: tuple[Field, ...]
    blocks: tuple[Block, ...]
    """What stands between the heading and the first step."""
    steps: tuple[Step, ...]
    span: Span
    heading_span: Span

    def field(self, name: str) -> Field | None:
        return _field(self.fields, name)

    @cached_property
    def panels(self) -> tuple[Panel, ...]:
        return tuple(b for b in self.blocks if isinstance(b, Panel))


class Allowance(Record):
    """A comment that lets one rule pass at one place, with the reason."""

    rule: str
    reason: str
    span: Span
    rows: tuple[int, int]
    """1-based first and last line it holds for."""
    rule_span: Span
    """Where the rule is named."""
    whole: Span
    """All that goes when the comment is deleted: its rows, where nothing else stands in them."""


class Document(Record):
    """One Markdown file, read."""

    path: str
    front: Front
    places: Places
    title: str | None
    """The H1, None where there is none."""
    title_span: Span
    blocks: tuple[Block, ...]
    """What stands above the first H2."""
    stages: tuple[Stage, ...]
    allowances: tuple[Allowance, ...]
    first_row_span: Span

    @property
    def profile(self) -> ProfileFront:
        assert isinstance(self.front, ProfileFront)
        return self.front

    @property
    def procedure(self) -> ProcedureFront:
        assert isinstance(self.front, ProcedureFront)
        return self.front

    @property
    def is_profile(self) -> bool:
        return isinstance(self.front, ProfileFront)

    @cached_property
    def panels(self) -> tuple[Panel, ...]:
        """Panels above the first stage: they hold for the whole document."""
        return tuple(b for b in self.blocks if isinstance(b, Panel))

    @cached_property
    def steps(self) -> dict[str, Step]:
        return {s.slug: s for stage in self.stages for s in stage.steps}

    @cached_property
    def shared_stages(self) -> dict[str, Stage]:
        return {s.slug: s for s in self.stages if s.shared}

    @cached_property
    def numbers(self) -> dict[str, str]:
        """Step slug to its number as cited: stage, dot, step."""
        return {
            step.slug: f"{n}.{m}"
            for n, stage in enumerate(self.stages, 1)
            for m, step in enumerate(stage.steps, 1)
        }

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        return tuple(b for blocks in self.all_blocks() for b in blocks if isinstance(b, Figure))

    @cached_property
    def pictures(self) -> tuple[Figure, ...]:
        """Every picture; of a pair both."""
        return tuple(picture for figure in self.figures for picture in figure.pictures)

    @cached_property
    def all_links(self) -> tuple[tuple[Stage | None, Step | None, Link], ...]:
        """Links in running text, with the stage and step they stand in; those of answers are not among them."""
        return tuple(
            (stage, step, run)
            for stage, step, blocks in self._parts()
            for run in all_runs(blocks)
            if isinstance(run, Link)
        )

    @cached_property
    def all_roles(self) -> tuple[Role, ...]:
        """Marks wherever they stand, also in panels, captions and answers."""
        found: list[Role] = []
        for _, step, blocks in self._parts():
            found += [r for r in all_runs(blocks) if isinstance(r, Role)]
            for answer in step.answers if step else ():
                found += [r for r in walk(answer.seen) if isinstance(r, Role)]
        return tuple(found)

    @cached_property
    def all_fields(self) -> tuple[Field, ...]:
        """Fields of the stages, each followed by those of its steps."""
        found: list[Field] = []
        for stage in self.stages:
            found += stage.fields
            for step in stage.steps:
                found += step.fields
        return tuple(found)

    def _parts(self) -> Iterator[tuple[Stage | None, Step | None, tuple[Block, ...]]]:
        yield None, None, self.blocks
        for stage in self.stages:
            yield stage, None, stage.blocks
            for step in stage.steps:
                yield stage, step, step.blocks

    def all_blocks(self) -> Iterator[tuple[Block, ...]]:
        yield self.blocks
        for stage in self.stages:
            yield stage.blocks
            for step in stage.steps:
                yield step.blocks

    def all_steps(self) -> Iterator[tuple[Stage, Step]]:
        for stage in self.stages:
            for step in stage.steps:
                yield stage, step

    @property
    def key(self) -> str:
        """Number of a procedure or id of a profile, folded: unique in a library."""
        return fold(self.front.id if isinstance(self.front, ProfileFront) else self.front.number)
