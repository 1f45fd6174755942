"""What a calculation block may hold, and what it comes to."""

from __future__ import annotations

import re
from collections.abc import Iterator

from kilter.assist.known import Entry, Known
from kilter.check.calculated import STACK, calculated, fields_of
from kilter.check.workspace import Workspace
from kilter.compute.calculation import NAMES, Input, InputError, Result, calculator
from kilter.compute.fastener_friction import WORDS
from kilter.model.document import Document
from kilter.model.text import Calculation

INSIDE = ("calc", STACK)
_HEADER = re.compile(r"^ {0,3}:{3,}\{(calc|stack)\}[ \t]*(.*?)[ \t]*$")


def headers() -> Iterator[Entry]:
    """The first rows of the blocks."""
    for name in NAMES:
        head = ":::{stack}" if name == STACK else f":::{{calc}} {name}"
        yield Entry(head, "directive", calculator(name).summary)


def names() -> Iterator[Entry]:
    """The calculations, behind `:::{calc}`."""
    yield from (Entry(name, "word", calculator(name).summary) for name in NAMES if name != STACK)


def inputs(known: Known, line: int) -> Iterator[Entry]:
    """The fields of the block that a row stands in, but for those that are given already."""
    name, given = _block_above(known, line)
    for wanted in fields_of(name):
        if wanted.many or wanted.name not in given:
            detail = _detail(wanted)
            yield Entry(f":{wanted.name}:", "field", detail, insert=f":{wanted.name}: ")


def values(known: Known, line: int, field: str) -> Iterator[Entry]:
    """The words that an input takes."""
    name, _ = _block_above(known, line)
    wanted = next((i for i in fields_of(name) if i.name == field), None)
    if wanted is not None:
        yield from (Entry(choice, "word") for choice in wanted.choices)
        if field == "friction":
            yield from frictions()


def frictions() -> Iterator[Entry]:
    """How a screw may be lubricated, in the words that have a number."""
    for word, (low, high, _) in WORDS.items():
        yield Entry(word, "word", f"K {low:.2f}" + (f" to {high:.2f}" if high > low else ""))


def _detail(wanted: Input) -> str:
    example = f", such as {wanted.example}" if wanted.example else ""
    return f"{wanted.ask}{example}" + (" (needed)" if wanted.needed else "")


def _block_above(known: Known, line: int) -> tuple[str, set[str]]:
    """The name of the block around a row, and the fields above it."""
    given: set[str] = set()
    for row in range(line - 2, -1, -1):
        text = known.source.row(row)
        if (match := _HEADER.match(text)) is not None:
            return (STACK if match[1] == STACK else match[2]), given
        if not text.lstrip().startswith(":"):
            break
        given.add(text.strip().lstrip(":").partition(":")[0])
    return "", given


def block_at(document: Document, line: int) -> Calculation | None:
    """The calculation that a 1-based row stands in."""
    for blocks in document.all_blocks():
        for block in blocks:
            if isinstance(block, Calculation) and block.span.line <= line <= block.span.end_line:
                return block
    return None


def result_markdown(workspace: Workspace, block: Calculation) -> str:
    """What a block comes to, as its page shows it; or what is missing."""
    answer = calculated(block, workspace.library)
    if isinstance(answer, InputError):
        help = f"\n\n{answer.help}" if answer.help else ""
        return f"**{block.name}**: {answer.message}{help}"
    return "\n\n".join(_parts(block, answer))


def _parts(block: Calculation, answer: Result) -> Iterator[str]:
    yield f"**{block.name}**" + (f": **{answer.verdict}**" if answer.verdict else "")
    yield "\n".join(
        f"- {line.name}: " + (f"**{line.text}**" if line.main else line.text) for line in answer.lines
    )
    yield f"`{answer.formula}`\n\n{answer.source}"
    if answer.assumptions:
        yield "Assumed: " + "; ".join(answer.assumptions)
    if answer.cautions:
        yield "\n".join(f"- {caution}" for caution in answer.cautions)
