"""The form of running text and blocks in a compiled document."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from kilter.publish.states.data import Data


class Form(Data):
    """What is said under a key here stands in the schema too."""

    model_config = ConfigDict(use_attribute_docstrings=True)


class Plain(Form):
    """Plain words, or words set as code: a button's legend, an error number."""

    kind: Literal["text", "code"]
    text: str


class Break(Form):
    """A line break that the author asked for."""

    kind: Literal["break"]


class Styled(Form):
    """Strong or stressed words."""

    kind: Literal["strong", "emphasis"]
    runs: tuple[Run, ...]


class Linked(Form):
    """Words that lead somewhere."""

    kind: Literal["link"]
    target: str
    """`#step`, another document's number, or a web address, as written."""
    runs: tuple[Run, ...]


class Mark(Form):
    """A mark: an effect, a value, a tool, a part, an item of a figure."""

    kind: Literal["mark"]
    mark: str
    text: str
    names: tuple[str, ...]
    """The text split at commas."""


Run = Annotated[Plain | Break | Styled | Linked | Mark, Field(discriminator="kind")]


class Words(Form):
    """Running text twice: as read aloud, and in runs that keep what the author marked."""

    text: str
    runs: tuple[Run, ...]


class Paragraph(Words):
    kind: Literal["paragraph"]


class Listing(Form):
    kind: Literal["list"]
    ordered: bool
    start: int
    items: tuple[tuple[Block, ...], ...]


class Table(Form):
    kind: Literal["table"]
    header: tuple[Words, ...]
    rows: tuple[tuple[Words, ...], ...]


class Verbatim(Form):
    """Shown letter for letter."""

    kind: Literal["verbatim"]
    text: str


class Quote(Form):
    kind: Literal["quote"]
    blocks: tuple[Block, ...]


class Panel(Form):
    """A signal-word panel."""

    kind: Literal["panel"]
    word: Literal["danger", "warning", "caution", "notice"]
    sources: tuple[str, ...]
    """Energy sources it is about, as the profile writes them; empty where it names none."""
    blocks: tuple[Block, ...]


class Shown(Form):
    """Where a figure stands; the figure itself is in `figures`."""

    kind: Literal["figure"]
    number: int


class Given(Form):
    """An input of a calculation, as written."""

    name: str
    value: str


class AnswerLine(Form):
    """A line of a calculation's answer; value, or low and high, unrounded in `unit`; null for words."""

    name: str
    text: str
    value: float | None
    low: float | None
    high: float | None
    unit: str
    main: bool
    """Whether it is what was asked for; those lines stand first."""


class Worked(Form):
    """A calculation with its answer: the same numbers as on the page, on the card and from `kilter calc`."""

    kind: Literal["calculation"]
    calculation: str
    given: tuple[Given, ...]
    lines: tuple[AnswerLine, ...]
    verdict: Literal["", "holds", "fails", "too close to call", "not judged"]
    formula: str
    source: str
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    caption: tuple[Block, ...]


Block = Annotated[
    Paragraph | Listing | Table | Verbatim | Quote | Panel | Shown | Worked, Field(discriminator="kind")
]
