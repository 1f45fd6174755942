"""Numbering the items of a figure anew, clockwise: with all that the text says of them, or not at all and why.

Only where the author asks for it: the numbers are the author's.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain

from kilter.compute.pictureinfo import picture_info
from kilter.compute.pictureplan import Size, plan_of
from kilter.diagnostic import Edit, Fix
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.model.text import Figure, Styled, Text, all_runs, walk
from kilter.picture.callouts.model import Anchor
from kilter.picture.callouts.order import clockwise
from kilter.picture.callouts.slots import MOST
from kilter.read.cures import text_at
from kilter.source import Source, Span

FEWEST = 2
TITLE = "number the items clockwise"
_REFERENCE = re.compile(r"^(?:(\S+)\s+)?(\d+)$")
_NUMBER = re.compile(r"\d+")
_BOLD = re.compile(r"\(?(\d{1,3})[).,;:]?")


@dataclass(frozen=True)
class Renumbering:
    """What numbering clockwise comes to."""

    numbers: dict[int, int] = field(default_factory=dict)
    """The new number of each old one; empty where they are in order already, or can't be changed."""
    edits: tuple[Edit, ...] = ()
    references: int = 0
    """Places in the text that follow."""
    refused: str = ""
    """Why not, as a sentence for the author; empty where it is offered or nothing has to be done."""

    @property
    def fix(self) -> Fix | None:
        """All of it as one change."""
        also = f" ({self.references} in the text follow)" if self.references else ""
        return Fix(TITLE + also, self.edits) if self.edits else None


def renumbering(library: Library, document: Document, picture: Figure, size: Size) -> Renumbering:
    """The items of one picture; `size` is that of its upright source."""
    numbers = [item.number for item in picture.items]
    if not FEWEST <= len(numbers) <= MOST or len(set(numbers)) < len(numbers):
        return Renumbering()
    plan = plan_of(picture)
    seen = plan.seen(size)
    anchors = [Anchor(i.number, *plan.place(i.x, i.y, size)) for i in picture.items]
    if any(not (0 <= a.x < seen.width and 0 <= a.y < seen.height) for a in anchors):
        return Renumbering()
    new = clockwise(anchors, seen.width, seen.height)
    if all(old == now for old, now in new.items()):
        return Renumbering()
    refused = _reason(library, document, picture, new)
    if refused:
        return Renumbering(refused=refused)
    source = library.sources[document.path]
    rows = [_in(source, i.span, f":{i.number}:", f":{new[i.number]}:") for i in picture.items]
    named = list(_named(source, document, picture, new))
    edits = [e for e in (*rows, *named) if e is not None]
    if len(edits) < len(rows) + len(named):
        return Renumbering(refused="The place of a number in the text can't be told for sure.")
    return Renumbering(new, tuple(e for e in edits if e.text != text_at(source, e.span)), len(named))


def numberings(library: Library, path: str, first: int, last: int) -> list[Fix]:
    """What an editor offers in the 1-based rows `first` to `last`: the figures there that can be numbered anew."""
    document = library.documents.get(path)
    found = []
    for figure in document.figures if document is not None else ():
        if document is None or not (figure.span.line <= last and first <= figure.span.end_line):
            continue
        info = picture_info(library.file_of(path).parent / figure.path)
        if not info.problem:
            size = Size(info.width, info.height)
            found.append(renumbering(library, document, figure, size).fix)
    return [fix for fix in found if fix is not None]


def _reason(library: Library, document: Document, picture: Figure, new: dict[int, int]) -> str:
    """Why the numbers have to stay."""
    figure = next(f for f in document.figures if picture in f.pictures)
    if figure.after is not None:
        return "The two pictures of a pair share their numbers: one of them can't be numbered by itself."
    for other in document.pictures:
        theirs = {fold(i.label): i.number for i in other.items} if other is not picture else {}
        shared = [i for i in picture.items if theirs.get(fold(i.label)) == i.number != new[i.number]]
        if shared:
            return (
                f"{shared[0].label} is {shared[0].number} in the figure of line {other.path_span.line} too: "
                "the same part keeps its number in every figure."
            )
        before = {i.number: fold(i.label) for i in picture.items}
        after = {new[number]: label for number, label in before.items()}
        for label, number in theirs.items():
            if after.get(number, label) != label and before.get(number, label) == label:
                return (
                    f"{number} is another part in the figure of line {other.path_span.line}: "
                    "one number would name two parts."
                )
    for span in _bold(document, new):
        return f"Line {span.line} says a number in bold: write it as {{item}}`figure number` first, so that it can follow."
    if figure.id is not None and any(
        re.search(rf"\b{re.escape(figure.id)}\s+\d", row)
        for path in library.modules
        for row in library.sources[path].lines
    ):
        return "A training module names its items by number."
    return ""


def _bold(document: Document, new: dict[int, int]) -> Iterator[Span]:
    """Strong words that are nothing but one of the numbers."""
    answers = (run for _, step in document.all_steps() for a in step.answers for run in walk(a.seen))
    for run in chain(*(all_runs(blocks) for blocks in document.all_blocks()), answers):
        if isinstance(run, Styled) and run.kind == "strong" and len(run.runs) == 1:
            inner = run.runs[0]
            match = _BOLD.fullmatch(inner.text.strip()) if isinstance(inner, Text) else None
            if match is not None and int(match[1]) in new:
                yield run.span


def _named(source: Source, document: Document, picture: Figure, new: dict[int, int]) -> Iterator[Edit | None]:
    """Marks in the text that name an item of the figure."""
    for role in document.all_roles:
        figure = ""
        for name in role.names if role.name == "item" else ():
            match = _REFERENCE.match(name.text)
            figure = (match[1] or figure) if match else ""
            if match and figure == picture.id and int(match[2]) in new:
                yield _last_number(source, name.span, int(match[2]), new)


def _last_number(source: Source, span: Span, old: int, new: dict[int, int]) -> Edit | None:
    found = list(_NUMBER.finditer(text_at(source, span)))
    if span.line != span.end_line or not found or int(found[-1][0]) != old:
        return None
    at = span.column - 1
    return Edit(source.in_row(span.line - 1, at + found[-1].start(), at + found[-1].end()), str(new[old]))


def _in(source: Source, span: Span, old: str, new: str) -> Edit | None:
    row = source.lines[span.line - 1]
    at = row.find(old)
    return None if at < 0 else Edit(source.in_row(span.line - 1, at, at + len(old)), new)
