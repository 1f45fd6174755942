"""Running text and the blocks it stands in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from kilter.model.base import Record, fold
from kilter.source import Span

SIGNAL_WORDS = ("danger", "warning", "caution", "notice")
"""From the gravest to the mildest, ANSI Z535.6; `notice` is about property only."""


class Name(Record):
    """A name as written, and where."""

    text: str
    span: Span

    @property
    def key(self) -> str:
        return fold(self.text)


class Text(Record):
    """Plain words."""

    kind: Literal["text"] = "text"
    text: str
    span: Span


class Code(Record):
    """Words set as code: a button's legend, an error number."""

    kind: Literal["code"] = "code"
    text: str
    span: Span


class Break(Record):
    """A line break that the author asked for."""

    kind: Literal["break"] = "break"
    span: Span


class Styled(Record):
    """Strong or stressed words."""

    kind: Literal["strong", "emphasis"]
    runs: tuple[Run, ...]
    span: Span


class Link(Record):
    """Words that lead somewhere: a step, another procedure's number, a web address."""

    kind: Literal["link"] = "link"
    target: str
    runs: tuple[Run, ...]
    span: Span
    target_span: Span


class Role(Record):
    """A mark in the running text: an effect, a value, a tool, a part, an item of a figure."""

    kind: Literal["role"] = "role"
    name: str
    text: str
    names: tuple[Name, ...]
    """The text split at commas."""
    span: Span
    text_span: Span


Run = Text | Code | Break | Styled | Link | Role


class Paragraph(Record):
    kind: Literal["paragraph"] = "paragraph"
    runs: tuple[Run, ...]
    span: Span


class Listing(Record):
    """A list that is just a list."""

    kind: Literal["list"] = "list"
    ordered: bool
    start: int
    items: tuple[tuple[Block, ...], ...]
    span: Span


class Table(Record):
    kind: Literal["table"] = "table"
    header: tuple[Paragraph, ...]
    rows: tuple[tuple[Paragraph, ...], ...]
    span: Span


class Verbatim(Record):
    """A block that is shown letter for letter."""

    kind: Literal["verbatim"] = "verbatim"
    text: str
    span: Span


class Quote(Record):
    kind: Literal["quote"] = "quote"
    blocks: tuple[Block, ...]
    span: Span


class Panel(Record):
    """A signal-word panel: hazard (the bold lead), what happens, how to avoid it."""

    kind: Literal["panel"] = "panel"
    word: str
    sources: tuple[Name, ...]
    blocks: tuple[Block, ...]
    span: Span
    word_span: Span

    @property
    def rank(self) -> int:
        """4 DANGER, 3 WARNING, 2 CAUTION, 1 NOTICE."""
        return 4 - SIGNAL_WORDS.index(self.word)


class Item(Record):
    """A numbered item of a figure; x and y in pixels of the upright source picture, from its upper left."""

    number: int
    x: float
    y: float
    label: str
    span: Span


class Area(Record):
    """A rectangle of a picture, in pixels of the upright source, from its upper left."""

    x: int
    y: int
    width: int
    height: int
    span: Span


class Detail(Record):
    """A part of a picture that is shown again, larger, in one of its corners."""

    area: Area
    place: str
    """`upper left` and the like."""
    times: float
    """How many times larger than the picture around it."""


MotionKind = Literal["turn", "push", "pull", "slide"]


class Motion(Record):
    """A movement that is shown by an arrow and told in words, at a place of the upright source picture."""

    kind: MotionKind
    x: float
    y: float
    way: str
    """`left`, `upper right` and the like."""
    amount: str
    """How far, as written: `90°`, `12 mm`; may be empty."""
    span: Span

    @property
    def words(self) -> str:
        """As it is printed."""
        return " ".join(w for w in (self.kind, self.way, self.amount) if w)


class Scale(Record):
    """A known length in a picture: between two places of the upright source."""

    length: str
    """As written: `50 mm`."""
    start: tuple[float, float]
    end: tuple[float, float]
    span: Span


class Figure(Record):
    kind: Literal["figure"] = "figure"
    path: str
    """As written: relative to the document's folder."""
    id: str | None
    alt: str | None
    items: tuple[Item, ...]
    caption: tuple[Block, ...]
    span: Span
    path_span: Span
    id_span: Span | None = None
    crop: Area | None = None
    """All that is shown of the picture."""
    covers: tuple[Area, ...] = ()
    """Painted over before anything else is done."""
    details: tuple[Detail, ...] = ()
    looked: str | None = None
    """What the author says to have looked for: people, names, labels."""
    looked_span: Span | None = None
    motions: tuple[Motion, ...] = ()
    scale: Scale | None = None
    after: Figure | None = None
    """The second picture of a pair, after the work; it has neither a name nor a caption of its own."""

    @property
    def pictures(self) -> tuple[Figure, ...]:
        """The picture, or the two of a pair, in their order."""
        return (self, self.after) if self.after else (self,)


class Given(Record):
    """One input of a calculation, as written."""

    name: str
    value: str
    span: Span
    name_span: Span
    value_span: Span


class Calculation(Record):
    """A value that is worked out: `:::{calc} NAME` with its inputs as fields, or `:::{stack}` with its parts."""

    kind: Literal["calculation"] = "calculation"
    name: str
    """The calculator's name; `stack` for a chain of dimensions, whose `plus` and `minus` are its parts."""
    given: tuple[Given, ...]
    caption: tuple[Block, ...]
    """What is said about it, in the author's words."""
    span: Span
    name_span: Span


Block = Paragraph | Listing | Table | Verbatim | Quote | Panel | Figure | Calculation


def walk(runs: tuple[Run, ...]) -> Iterator[Run]:
    """Every run, also those inside others, in reading order."""
    for run in runs:
        yield run
        if not isinstance(run, (Text, Role, Code, Break)):  # the frequent kinds first
            yield from walk(run.runs)


def paragraphs(blocks: tuple[Block, ...], panels: bool = True) -> Iterator[Paragraph]:
    """Every paragraph in reading order, also inside lists, tables, quotes, captions and (by choice) panels."""
    for block in blocks:
        if isinstance(block, Paragraph):
            yield block
        elif isinstance(block, Listing):
            for item in block.items:
                yield from paragraphs(item, panels)
        elif isinstance(block, Table):
            yield from block.header
            for row in block.rows:
                yield from row
        elif isinstance(block, Quote) or (isinstance(block, Panel) and panels):
            yield from paragraphs(block.blocks, panels)
        elif isinstance(block, (Figure, Calculation)):
            yield from paragraphs(block.caption, panels)


def all_runs(blocks: tuple[Block, ...], panels: bool = True) -> Iterator[Run]:
    """Every run of the blocks in reading order."""
    for paragraph in paragraphs(blocks, panels):
        yield from walk(paragraph.runs)


def plain(runs: tuple[Run, ...]) -> str:
    """The words alone, as read aloud: blanks joined, no marks."""
    return " ".join(_words(runs).split())


def _words(runs: tuple[Run, ...]) -> str:
    parts = []
    for run in runs:
        if isinstance(run, (Text, Code, Role)):
            parts.append(run.text)
        elif isinstance(run, Break):
            parts.append(" ")
        else:
            parts.append(_words(run.runs))
    return "".join(parts)
