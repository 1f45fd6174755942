"""The body of a training module: lessons with own words, what is taken from documents, own questions."""

from __future__ import annotations

import re

from markdown_it.token import Token

from kilter.diagnostic import did_you_mean
from kilter.model.base import slugify
from kilter.model.document import Field
from kilter.model.text import Block, Role, all_runs
from kilter.model.training import (
    TAKEN_PARTS,
    Fault,
    Lesson,
    LessonBlock,
    Module,
    OwnChoice,
    OwnQuestion,
    Part,
    Taken,
    TakenPart,
    TrainingFront,
    split_reference,
)
from kilter.read.blocks import DIRECTIVES, Blocks
from kilter.read.cures import spelt
from kilter.read.fields import field_at
from kilter.read.notes import Notes
from kilter.read.structure import Structure, _Section
from kilter.read.yaml_front import Front as FrontData
from kilter.source import Span

LESSON_FIELDS = ("id", "minutes", "objectives")
TRAINING_DIRECTIVES = ("from", "question", "fault")
CHOICES = ("right", "wrong")
QUESTION_OPTIONS = ("id", "safety", *CHOICES)
FAULT_OPTIONS = ("set", "shows", "undo", "prove")
_DASH = re.compile(r"\s+[-–—]\s+")


class TrainingBlocks(Blocks):
    """Blocks with two more directives; those are kept aside by row, for the model's blocks know none of them."""

    def __init__(self, notes: Notes, inlines: object) -> None:
        super().__init__(notes, inlines)  # type: ignore[arg-type]
        self.own: list[Taken | OwnQuestion | Fault] = []

    def directive_of_kind(
        self, name: str, token: Token, argument: str, first: int, last: int
    ) -> list[Block] | None:
        at, end = self._argument(first, argument)
        place = self.source.in_row(first, at, end) if argument else self.source.whole_row(first)
        if name == "from":
            self._taken(token, argument, place, first, last)
            return []
        if name == "question":
            self._question(token, argument, place, first, last)
            return []
        if name == "fault":
            self._fault(token, argument, place, first, last)
            return []
        return None

    def known_directives(self) -> tuple[str, ...]:
        return (*TRAINING_DIRECTIVES, *DIRECTIVES)

    def _taken(self, token: Token, argument: str, place: Span, first: int, last: int) -> None:
        where, _, part = argument.strip().partition(" ")
        number, step = split_reference(where)
        part = part.strip()
        figure = "" if part in TAKEN_PARTS[1:] else part
        kind: TakenPart = "figure" if figure else next((p for p in TAKEN_PARTS if p == part), "step")
        if not number or (not step and not part):
            help = "write `:::{from} LFT-120#prove-zero`, `LFT-120 fig-boom`, or one of " + ", ".join(
                f"`LFT-120 {p}`" for p in TAKEN_PARTS[2:]
            )
            message = "it is not said what is taken from where"
            self.notes.error("bad-value", message, place, help)
            return
        self.own.append(
            Taken(
                number=number,
                step=step,
                part=kind,
                figure=figure,
                caption=tuple(self._content(token, first + 1)),
                span=self.source.rows(first, last),
                place=place,
            )
        )

    def _question(self, token: Token, argument: str, place: Span, first: int, last: int) -> None:
        row, seen, choices = first + 1, dict[str, str](), list[OwnChoice]()
        while row < last - 1 and (field := field_at(self.source, row)) is not None:
            if field.name in CHOICES:
                text, _, why = self._split(field)
                choices.append(OwnChoice(text=text, why=why, right=field.name == "right", span=field.span))
            elif field.name not in QUESTION_OPTIONS:
                help = did_you_mean(field.name, QUESTION_OPTIONS)
                cure = spelt(self.source, field.name_span, field.name, QUESTION_OPTIONS, alone=True)
                message = f"option `:{field.name}:` of a question is not known"
                self.notes.error("unknown-field", message, field.name_span, help, cure)
            elif field.name in seen:
                message = f"option `:{field.name}:` stands twice"
                self.notes.error("duplicate-key", message, field.name_span, "keep one of them")
            else:
                seen[field.name] = field.value
            row += 1
        if seen.get("safety", "no") not in ("yes", "no"):
            message = f"`{seen['safety']}`: is it a question of safety or not"
            self.notes.error("bad-value", message, place, "write `:safety: yes` or leave the line out")
        self.own.append(
            OwnQuestion(
                objective=argument.strip(),
                id=slugify(seen.get("id", "")),
                safety=seen.get("safety") == "yes",
                choices=tuple(choices),
                stem=tuple(self._content(token, first + 1, row - first - 1)),
                span=self.source.rows(first, last),
                place=place,
            )
        )

    def _fault(self, token: Token, argument: str, place: Span, first: int, last: int) -> None:
        row, said = first + 1, dict[str, str]()
        while row < last - 1 and (field := field_at(self.source, row)) is not None:
            if field.name not in FAULT_OPTIONS:
                help = did_you_mean(field.name, FAULT_OPTIONS)
                cure = spelt(self.source, field.name_span, field.name, FAULT_OPTIONS, alone=True)
                message = f"option `:{field.name}:` of a fault is not known"
                self.notes.error("unknown-field", message, field.name_span, help, cure)
            elif field.name in said:
                message = f"option `:{field.name}:` stands twice"
                self.notes.error("duplicate-key", message, field.name_span, "keep one of them")
            else:
                said[field.name] = field.value
            row += 1
        missing = [f"`:{n}:`" for n in ("set", "undo", "prove") if not said.get(n, "").strip()]
        if not argument.strip() or missing:
            what = ", ".join(missing) if missing else "the document that mends it"
            message = f"a fault without {what}"
            help = "write `:::{fault} LFT-120`, then `:set:`, `:undo:` and `:prove:`: a machine must come back whole"
            self.notes.error("bad-value", message, place, help)
        self.own.append(
            Fault(
                number=argument.strip(),
                sets=said.get("set", ""),
                shows=said.get("shows", ""),
                undo=said.get("undo", ""),
                prove=said.get("prove", ""),
                notes=tuple(self._content(token, first + 1, row - first - 1)),
                span=self.source.rows(first, last),
                place=place,
            )
        )

    def _split(self, field: Field) -> tuple[str, str, str]:
        """The words of a choice and, after a dash with blanks, why it is right or wrong."""
        parts = _DASH.split(field.value, maxsplit=1)
        if not parts[0].strip():
            help = "write the choice, a dash, and why: `:wrong: a tag - a tag does not hold anything`"
            self.notes.error("empty-field", f"option `:{field.name}:` says nothing", field.span, help)
        return parts[0].strip(), "-", parts[1].strip() if len(parts) > 1 else ""


class Lessons(Structure):
    """Reads the body of a training module."""

    def __init__(self, notes: Notes, first_row: int) -> None:
        super().__init__(notes, first_row)
        self.blocks: TrainingBlocks = TrainingBlocks(notes, self.inlines)

    def read_module(self, front: TrainingFront, data: FrontData) -> Module:
        tokens = self._tokens()
        title, title_span = None, self.source.whole_row(self.offset)
        top: list[LessonBlock] = []
        lessons: list[tuple[_Section, list[_Section]]] = []
        for section in self._sections(tokens):
            if section.level <= 1:
                if section.heading is not None:
                    found = self._title(section, title, bool(lessons))
                    title, title_span = found if title is None else (title, title_span)
                top += self._flow(section, ())[1]
            elif section.level == 2:
                lessons.append((section, []))
            elif lessons:
                lessons[-1][1].append(section)
            else:
                help = "write an H2 above it: a lesson"
                self.notes.error(
                    "step-without-stage", "a part stands above the first lesson", section.span, help
                )
        module = Module(
            path=self.source.path,
            front=front,
            places=data.places,
            title=title,
            title_span=title_span,
            blocks=tuple(top),
            lessons=tuple(self._lesson(head, parts) for head, parts in lessons),
            allowances=(),
            first_row_span=self.source.whole_row(0),
        )
        for block in module.all_blocks:
            self._words_only(block)
        self._lost_allowances()
        return module.replace(allowances=tuple(self.allowances))

    def _flow(
        self, section: _Section, allowed: tuple[str, ...]
    ) -> tuple[list[Field], tuple[LessonBlock, ...]]:
        """Fields and blocks of one section, with the training's own blocks where they stand."""
        before = len(self.blocks.own)
        fields, plain = self._body(section, allowed)
        own = self.blocks.own[before:]
        return fields, tuple(sorted([*plain, *own], key=lambda block: block.span.line))

    def _lesson(self, head: _Section, parts: list[_Section]) -> Lesson:
        title, _ = self._heading(head, ())
        fields, blocks = self._flow(head, LESSON_FIELDS)
        made = []
        for section in parts:
            words, _ = self._heading(section, ())
            made.append(
                Part(
                    title=words,
                    blocks=self._flow(section, ())[1],
                    span=self.source.rows(section.row, section.end),
                    heading_span=section.span,
                )
            )
        named = {f.name: f for f in fields}
        return Lesson(
            title=title,
            slug=self._slug(fields, title),
            fields=tuple(fields),
            minutes=self._minutes(named.get("minutes")),
            objectives=tuple(n.strip() for n in named["objectives"].value.split(",") if n.strip())
            if "objectives" in named
            else (),
            blocks=blocks,
            parts=tuple(made),
            span=self.source.rows(head.row, parts[-1].end if parts else head.end),
            heading_span=head.span,
        )

    def _minutes(self, field: Field | None) -> int | None:
        if field is None:
            return None
        match = re.fullmatch(r"(\d{1,4})(?: ?min)?", field.value)
        if match is None or int(match[1]) == 0:
            help = "write whole minutes: `:minutes: 25`"
            self.notes.error("bad-value", f"`{field.value}` is no number of minutes", field.value_span, help)
            return None
        return int(match[1])

    def _words_only(self, block: LessonBlock) -> None:
        """A mark would look as if it were checked; what is checked is taken from its document."""
        inner = (
            block.caption
            if isinstance(block, Taken)
            else block.stem
            if isinstance(block, OwnQuestion)
            else block.notes
            if isinstance(block, Fault)
            else (block,)
        )
        runs = tuple(all_runs(inner))
        self._stray_in(runs)
        for run in runs:
            if isinstance(run, Role):
                help = "say it in words, or take the step in: `:::{from} NUMBER#step`"
                message = f"mark `{{{run.name}}}` does nothing in a training module"
                self.notes.error("mark-outside-step", message, run.span, help)
