"""Headings to stages and steps."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from markdown_it.token import Token

from kilter.diagnostic import Fix, did_you_mean
from kilter.model.base import slugify
from kilter.model.document import ROLES, Allowance, Document, Field, Stage, Step
from kilter.model.front import Front
from kilter.model.text import Block, Panel, Role, Run, Text, all_runs, plain, walk
from kilter.read.answers import split_answers
from kilter.read.blocks import Blocks, closing
from kilter.read.cures import end_of, exact, inserted, line_start, put, spelt, without_rows
from kilter.read.fields import LAST_LINE_FIELDS, STAGE_FIELDS, STEP_FIELDS, checked, field_at, fields_in
from kilter.read.inline import BRACE_MARKS, STRAY, Inlines
from kilter.read.markdown import tokens_of, too_deep
from kilter.read.notes import Notes
from kilter.read.yaml_front import Front as FrontData
from kilter.source import Span

_MARKED = re.compile(r"^(.*?)\s*\{([^{}]*)\}\s*$")
_ALLOW = re.compile(r"<!--\s*allow\s+([\w-]+)\s*:?[ \t]*(.*?)\s*-->", re.DOTALL)
_ANY_ALLOW = re.compile(r"<!--\s*allow\b")


@dataclass
class _Section:
    level: int
    heading: Token | None
    runs: tuple[Run, ...]
    row: int
    """0-based row of the heading, or where the text begins."""
    span: Span
    """Of that row."""
    body: list[Token]
    end: int = 0


class Structure:
    """Reads the body of one file."""

    def __init__(self, notes: Notes, first_row: int) -> None:
        self.notes, self.source, self.offset = notes, notes.source, first_row
        self.inlines = Inlines(notes)
        self.blocks = Blocks(notes, self.inlines)
        self.allowances: list[Allowance] = []
        self._allow_rows: set[int] = set()

    def read(self, front: Front, data: FrontData) -> Document:
        sections = self._sections(self._tokens())
        title, title_span = None, self.source.whole_row(self.offset)
        top: list[Block] = []
        stages: list[tuple[_Section, list[_Section]]] = []
        for section in sections:
            if section.level <= 1:
                if section.heading is not None:
                    found = self._title(section, title, bool(stages))
                    title, title_span = found if title is None else (title, title_span)
                above = self._body(section, ())[1]
                self._no_effects([b for b in above if not isinstance(b, Panel)])
                top += above
            elif section.level == 2:
                stages.append((section, []))
            elif not stages:
                help = "write an H2 above it"
                message, stage = "a step stands above the first stage", "## [fill in: name of this stage]\n\n"
                cure = inserted("write a stage above it", line_start(section.span), stage)
                self.notes.error("step-without-stage", message, section.span, help, cure)
            else:
                stages[-1][1].append(section)
        document = Document(
            path=self.source.path,
            front=front,
            places=data.places,
            title=title,
            title_span=title_span,
            blocks=tuple(top),
            stages=tuple(self._stage(head, steps) for head, steps in stages),
            allowances=(),
            first_row_span=self.source.whole_row(0),
        )
        self._stray_braces(document)
        self._lost_allowances()
        return document.replace(allowances=tuple(self.allowances))

    def _tokens(self) -> list[Token]:
        tokens = tokens_of("\n".join(self.source.lines[self.offset :]))
        self._refuse_depth(tokens)
        return tokens

    def _refuse_depth(self, tokens: list[Token]) -> None:
        if (row := too_deep(tokens)) is not None:
            span = self.source.whole_row(self.offset + row)
            self.notes.error("nested-too-deep", "lists or quotes nested too deeply", span, "make it flatter")

    def _sections(self, tokens: list[Token]) -> list[_Section]:
        sections = [_Section(0, None, (), self.offset, self.source.whole_row(self.offset), [])]
        at = 0
        while at < len(tokens):
            end = closing(tokens, at)
            head = tokens[at]
            if head.type == "heading_open":
                self._begin(sections, head, tokens[at + 1])
            else:
                sections[-1].body += tokens[at : end + 1]
            at = end + 1
        for before, after in pairwise(sections):
            before.end = after.row
        sections[-1].end = len(self.source.lines)
        return sections

    def _begin(self, sections: list[_Section], head: Token, inline: Token) -> None:
        level, row = int(head.tag[1]), self.offset + (head.map or [0])[0]
        runs, span = self.inlines.runs(inline, self.offset), self.source.whole_row(row)
        if level > 3:
            help = "H1 is the title, H2 a stage, H3 a step; use a list or a paragraph below that"
            self.notes.error("heading-too-deep", f"a heading of level {level}", span, help)
            return
        for run in walk(runs):
            if isinstance(run, Role):
                help = "say it in a sentence under the heading"
                self.notes.error(
                    "mark-in-heading", f"mark `{{{run.name}}}` stands in a heading", run.span, help
                )
        sections.append(_Section(level, head, runs, row, span, []))

    def _title(self, section: _Section, before: str | None, late: bool) -> tuple[str, Span]:
        if before is not None or late:
            help = "a document has one title; make this one `##` (a stage) or `###` (a step)"
            self.notes.error("second-title", "a second H1, or one below a stage", section.span, help)
        return self._heading(section, ())[0], section.span

    def _heading(self, section: _Section, marks: tuple[str, ...]) -> tuple[str, str | None]:
        """The words of a heading and its brace mark."""
        words, span = plain(section.runs), section.span
        match = _MARKED.match(words)
        mark = match.group(2).strip() if match else None
        if match and mark is not None:
            words = match.group(1)
            if mark not in marks:
                self._bad_mark(mark, section.level, span)
                mark = None
        if not words:
            cure = inserted("leave a blank for its words", end_of(span), " [fill in: what is done here]")
            self.notes.error("empty-heading", "a heading without words", span, "name what is done here", cure)
        return words, mark

    def _bad_mark(self, mark: str, level: int, span: Span) -> None:
        if mark == "shared":
            self.notes.error("stray-brace", "`{shared}` marks stages only", span, "write it after an H2")
        elif mark in BRACE_MARKS:
            self.notes.error(
                "stray-brace", f"`{{{mark}}}` marks answers only", span, "write it after an answer's link"
            )
        else:
            help = did_you_mean(mark, ("shared",)) if level == 2 else "delete the braces, or write `\\{`"
            cure = spelt(self.source, span, mark, ("shared",)) if level == 2 else ()
            self.notes.error("stray-brace", f"`{{{mark}}}` after a heading is not known", span, help, cure)

    def _body(self, section: _Section, allowed: tuple[str, ...]) -> tuple[list[Field], list[Block]]:
        """Fields right under the heading, a last line of fields, and the blocks between."""
        tokens, fields = list(section.body), []
        self._comments(section)
        while section.heading is not None and tokens and tokens[0].type == "fields":
            fields += self._fields(tokens.pop(0))
        last_line: list[Field] = []
        if allowed == STEP_FIELDS and (start := self._last_fields(tokens)) is not None:
            last_line = self._fields(tokens[start])
            tokens = tokens[:start]
        blocks = self.blocks.read(tokens, self.offset)
        where = {1: "the title", 2: "a stage", 3: "a step"}.get(section.level, "the title")
        return list(checked(self.notes, fields + last_line, allowed, where)), blocks

    def _last_fields(self, tokens: list[Token]) -> int | None:
        """Where a step's last line of fields stands, if all of them may stand there."""
        if not tokens or tokens[-1].type != "fields":
            return None
        names = {f.name for f in self._fields(tokens[-1])}
        return len(tokens) - 1 if names <= set(LAST_LINE_FIELDS) else None

    def _fields(self, token: Token) -> list[Field]:
        first, last = token.map or [0, 0]
        return fields_in(self.source, self.offset + first, self.offset + last)

    def _comments(self, section: _Section) -> None:
        for token in section.body:
            if token.type != "html_block" or token.level:
                continue
            row = self.offset + (token.map or [0])[0]
            for match in _ALLOW.finditer(token.content):
                at = row + token.content[: match.start()].count("\n")
                self._allow_rows.add(at)
                self._allow(match, row, at, section)

    def _allow(self, match: re.Match[str], first: int, row: int, section: _Section) -> None:
        """`first` is the row in which the block begins that the match was found in, `row` that of the comment."""
        rule, reason, span = match[1], " ".join(match[2].split()), self.source.whole_row(row)
        if len(reason.split()) < 4:
            help = "say it in four words or more: `<!-- allow rule-name: why this is right here -->`"
            cure = self._reason(match, first)
            self.notes.error("bad-allowance", f"no reason why `{rule}` may be broken here", span, help, cure)
            return
        rows = (1, len(self.source.lines)) if section.level <= 1 else (section.row + 1, section.end)
        whole, named = self._in_block(match, first, 0), self._in_block(match, first, 1)
        if self.source.whole_row(row).column == whole.column and not self._after(whole):
            whole = without_rows(self.source, whole)
        allowance = Allowance(rule=rule, reason=reason, span=span, rows=rows, rule_span=named, whole=whole)
        self.allowances.append(allowance)

    def _in_block(self, match: re.Match[str], first: int, group: int) -> Span:
        """Where a group of a match in a block's text stands in the file."""
        start = sum(len(row) + 1 for row in self.source.lines[:first])
        return self.source.span(start + match.start(group), start + match.end(group))

    def _after(self, span: Span) -> str:
        return self.source.row(span.end_line - 1)[span.end_column - 1 :].strip()

    def _reason(self, match: re.Match[str], first: int) -> tuple[Fix, ...]:
        colon = "" if ":" in match[0][: match.end(2) - match.start()] else ":"
        at = end_of(self._in_block(match, first, 2 if match[2] else 1))
        if not match[2] and not colon:
            at = end_of(self._in_block(match, first, 2))
        return inserted("leave a blank for the reason", at, f"{colon} [fill in: why this is right here]")

    def _lost_allowances(self) -> None:
        for row in range(self.offset, len(self.source.lines)) if "<!--" in self.source.text else ():
            if _ANY_ALLOW.search(self.source.row(row)) and row not in self._allow_rows:
                help = "write `<!-- allow rule-name: why this is right here -->` on a line of its own"
                self.notes.error(
                    "bad-allowance", "this comment allows nothing", self.source.whole_row(row), help
                )

    def _stage(self, head: _Section, steps: list[_Section]) -> Stage:
        title, mark = self._heading(head, ("shared",))
        fields, blocks = self._body(head, STAGE_FIELDS)
        self._no_effects([b for b in blocks if not isinstance(b, Panel)])
        made = tuple(self._step(s) for s in steps)
        end = steps[-1].end if steps else head.end
        return Stage(
            title=title,
            slug=self._slug(fields, title),
            shared=mark == "shared",
            fields=tuple(fields),
            blocks=tuple(blocks),
            steps=made,
            span=self.source.rows(head.row, end),
            heading_span=head.span,
        )

    def _no_effects(self, blocks: list[Block]) -> None:
        for run in all_runs(tuple(blocks)):
            if isinstance(run, Role) and run.name not in ("tool", "part", "item"):
                help = "say it in a step, under an H3: only steps are checked"
                self.notes.error(
                    "mark-outside-step", f"mark `{{{run.name}}}` stands outside a step", run.span, help
                )

    def _step(self, section: _Section) -> Step:
        title, _ = self._heading(section, ())
        fields, blocks = self._body(section, STEP_FIELDS)
        rest, answers = split_answers(self.notes, blocks)
        end = section.end
        while end > section.row + 1 and not self.source.row(end - 1).strip():
            end -= 1
        return Step(
            title=title,
            slug=self._slug(fields, title),
            fields=tuple(fields),
            blocks=tuple(rest),
            answers=answers,
            span=self.source.rows(section.row, end),
            heading_span=section.span,
            end_span=self.source.whole_row(end - 1),
        )

    def _slug(self, fields: list[Field], title: str) -> str:
        field = next((f for f in fields if f.name == "id"), None)
        if field is None:
            return slugify(title)
        if slugify(field.value) != field.value:
            help = f"letters, digits and hyphens: `:id: {slugify(field.value)}`"
            cure = put(self.source, field.value_span, field.value, slugify(field.value), alone=True)
            message = f"`{field.value}` is no name of a step"
            self.notes.error(
                "bad-value", message, field.value_span, help, cure if slugify(field.value) else ()
            )
        return slugify(field.value)

    def _stray_braces(self, document: Document) -> None:
        for blocks in document.all_blocks():
            self._stray_in(tuple(all_runs(blocks)))
        for _, step in document.all_steps():
            for answer in step.answers:
                self._stray_in(tuple(walk(answer.seen)))

    def _stray_in(self, runs: tuple[Run, ...]) -> None:
        for run in runs:
            if isinstance(run, Text) and "{" in run.text:
                for match in STRAY.finditer(run.text):
                    self._stray(run, match)

    def _stray(self, run: Text, match: re.Match[str]) -> None:
        name = match.group(0)[1:-1].split()[0]
        column = run.span.column + match.start()
        span = Span(run.span.path, run.span.line, column, run.span.line, column + len(match.group(0)))
        if name in ROLES:
            help = f"a mark takes its words in back-quotes right after it: `{{{name}}}`…``"
        elif name in BRACE_MARKS:
            help = "`{shared}` stands after a stage's heading, `{not-zero}` and `{not-ok}` after an answer's link"
        else:
            help = did_you_mean(name, (*ROLES, *BRACE_MARKS)) + " A real brace is written `\\{`"
        known = name in ROLES or name in BRACE_MARKS
        shown = exact(self.source, span, match.group(0))
        cure = inserted("show the brace as it is: `\\{`", span, "\\") if shown == span and not known else ()
        self.notes.error("stray-brace", f"`{match.group(0)}` is not known here", span, help, cure)


__all__ = ["Structure", "field_at"]
