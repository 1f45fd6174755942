"""What a question and a paper are."""

from __future__ import annotations

from dataclasses import dataclass

KINDS = ("value", "mistake", "first", "order", "isolate", "part", "point", "missing", "own")
"""Every kind of question, in the order in which they are listed."""
LETTERS = "ABCDEFGH"
"""How choices are named on paper and in answers."""


@dataclass(frozen=True)
class Choice:
    """One of the answers to choose from."""

    text: str
    why: str
    """Why it is right or wrong: the feedback."""


@dataclass(frozen=True)
class Cite:
    """The step that a question stands on."""

    document: str
    """Its number."""
    revision: str
    anchor: str
    number: str
    """As printed: `4.2`."""
    title: str
    hash: str
    """12 hex digits of the step's facts."""

    @property
    def words(self) -> str:
        return f"{self.document} {self.revision}, step {self.number} “{self.title}”"


@dataclass(frozen=True)
class Region:
    """A place of a picture, in pixels of the upright source."""

    letter: str
    x: float
    y: float
    radius: float


@dataclass(frozen=True)
class FigureRef:
    """A picture that a question is about, shown without its own numbers."""

    owner: str
    """Path of the document that the figure stands in."""
    path: str
    """Of the picture, as written there."""
    id: str
    width: int
    height: int
    """Pixels of the upright source."""
    regions: tuple[Region, ...]
    """`part`: the one place that is asked about; `point`: one for each choice, in their order."""


@dataclass(frozen=True)
class Question:
    """A question with exactly one right choice."""

    id: str
    """Stable: kind, document, fact, serial."""
    kind: str
    stem: str
    choices: tuple[Choice, ...]
    """In the order shown."""
    key: int
    """Index of the right choice."""
    safety: bool
    """Whether it must be answered right whatever the score."""
    cites: Cite
    objectives: tuple[str, ...]
    figure: FigureRef | None = None
    fact: str = ""
    """What is asked: questions of one fact never stand in one paper."""
    ranked: bool = False
    """Whether the choices stand by size, so that no paper may put them in another order."""

    @property
    def letter(self) -> str:
        return LETTERS[self.key]


@dataclass(frozen=True)
class Paper:
    """One form of a written paper."""

    module: str
    revision: str
    form: str
    """`A`, `B` .."""
    serial: int
    """Which drawing of this form it is; a new one for every class."""
    code: str
    """Printed on sheet and key: names module, revision, form, serial and what was drawn."""
    questions: tuple[Question, ...]
