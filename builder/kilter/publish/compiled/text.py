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


Block = Annotated[Paragraph | Listing | Table | Verbatim | Quote | Panel | Shown, Field(discriminator="kind")]
