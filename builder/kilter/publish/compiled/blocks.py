"""From the model's blocks to those of a compiled document."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from kilter.compute.calculation import InputError, Line
from kilter.model import text as model
from kilter.model.text import plain
from kilter.publish.compiled.text import (
    AnswerLine,
    Block,
    Break,
    Given,
    Linked,
    Listing,
    Mark,
    Panel,
    Paragraph,
    Plain,
    Quote,
    Run,
    Shown,
    Styled,
    Table,
    Verbatim,
    Words,
    Worked,
)
from kilter.publish.worked import Answerer, worked


class Blocks:
    """Turns blocks over; needs to know figures' numbers and how the profile writes its sources."""

    def __init__(
        self,
        number: Callable[[model.Figure], int],
        source_name: Callable[[str], str | None],
        answer: Answerer,
    ) -> None:
        self.number, self.source_name, self.answer = number, source_name, answer

    def all(self, blocks: Iterable[model.Block]) -> tuple[Block, ...]:
        return tuple(self.one(block) for block in blocks)

    def one(self, block: model.Block) -> Block:
        match block:
            case model.Paragraph():
                return Paragraph(kind="paragraph", text=plain(block.runs), runs=runs(block.runs))
            case model.Listing():
                items = tuple(self.all(item) for item in block.items)
                return Listing(kind="list", ordered=block.ordered, start=block.start, items=items)
            case model.Table():
                rows = tuple(tuple(words(cell.runs) for cell in row) for row in block.rows)
                return Table(kind="table", header=tuple(words(c.runs) for c in block.header), rows=rows)
            case model.Verbatim():
                return Verbatim(kind="verbatim", text=block.text)
            case model.Quote():
                return Quote(kind="quote", blocks=self.all(block.blocks))
            case model.Panel():
                return self.panel(block)
            case model.Calculation():
                return self.worked(block)
            case _:
                return Shown(kind="figure", number=self.number(block))

    def panel(self, panel: model.Panel) -> Panel:
        return Panel.model_validate(
            {
                "kind": "panel",
                "word": panel.word,
                "sources": self.names(panel.sources),
                "blocks": self.all(panel.blocks),
            }
        )

    def worked(self, block: model.Calculation) -> Worked:
        """A document without errors has an answer to each of its calculations."""
        result = self.answer(block)
        if isinstance(result, InputError):
            raise result
        shown = worked(block, result)
        return Worked(
            kind="calculation",
            calculation=block.name,
            given=tuple(Given(name=name, value=value) for name, value in shown.given),
            lines=tuple(_line(line) for line in shown.lines),
            verdict=result.verdict,
            formula=result.formula,
            source=result.source,
            assumptions=result.assumptions,
            cautions=result.cautions,
            caption=self.all(block.caption),
        )

    def names(self, names: Iterable[model.Name]) -> tuple[str, ...]:
        """Names as the profile writes them; those of guards and tests stay as they stand."""
        return tuple(self.source_name(n.text) or n.text for n in names)


def _line(line: Line) -> AnswerLine:
    return AnswerLine(
        name=line.name,
        text=line.text,
        value=line.value,
        low=line.low,
        high=line.high,
        unit=line.unit,
        main=line.main,
    )


def words(given: tuple[model.Run, ...]) -> Words:
    return Words(text=plain(given), runs=runs(given))


def runs(given: tuple[model.Run, ...]) -> tuple[Run, ...]:
    return tuple(_run(run) for run in given)


def _run(run: model.Run) -> Run:
    match run:
        case model.Text() | model.Code():
            return Plain(kind=run.kind, text=run.text)
        case model.Break():
            return Break(kind="break")
        case model.Styled():
            return Styled(kind=run.kind, runs=runs(run.runs))
        case model.Link():
            return Linked(kind="link", target=run.target, runs=runs(run.runs))
        case _:
            return Mark(kind="mark", mark=run.name, text=run.text, names=tuple(n.text for n in run.names))
