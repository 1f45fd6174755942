"""Every word of a document that a card prints, with its place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from kilter.model.document import Document, Stage
from kilter.model.front import Loc
from kilter.model.text import (
    Block,
    Calculation,
    Figure,
    Listing,
    Panel,
    Quote,
    Role,
    Run,
    Text,
    Verbatim,
    all_runs,
    walk,
)
from kilter.model.text import Code as CodeRun
from kilter.source import Span

FIELDS = ("origin", "hands", "hold", "zone", "clear-of", "switch", "fastener", "friction")
"""Fields whose words are printed."""
OF_PROFILE = ("title", "writers", "tools", "parts", "sources", "guards", "switches")
OF_PROCEDURE = ("title", "writers", "applies_to", "symptoms", "protective", "tools", "parts")
"""Keys of the front matter whose words are printed."""


class Printed(NamedTuple):
    """Words and where they stand."""

    text: str
    span: Span


def printed(document: Document) -> Iterator[Printed]:
    """All of it, in the order of the file; of a profile what its own cards and those of its procedures show."""
    yield from _front(document, OF_PROFILE if document.is_profile else OF_PROCEDURE)
    if not document.is_profile:
        yield Printed(document.title or "", document.title_span)
        yield from _blocks(document.blocks)
    for stage in document.stages:
        if stage.shared or not document.is_profile:
            yield from _stage(stage)


def _stage(stage: Stage) -> Iterator[Printed]:
    yield Printed(stage.title, stage.heading_span)
    yield from _blocks(stage.blocks)
    for step in stage.steps:
        yield Printed(step.title, step.heading_span)
        yield from _blocks(step.blocks)
        for answer in step.answers:
            yield from _runs(walk((*answer.seen, answer.link)))
    fields = [*stage.fields, *(f for s in stage.steps for f in s.fields)]
    yield from (Printed(f.value, f.value_span) for f in fields if f.name in FIELDS)


def _runs(runs: Iterable[Run]) -> Iterator[Printed]:
    for run in runs:
        if isinstance(run, (Text, CodeRun)):
            yield Printed(run.text, run.span)
        elif isinstance(run, Role):
            yield Printed(run.text, run.text_span)


def _blocks(blocks: tuple[Block, ...]) -> Iterator[Printed]:
    yield from _runs(all_runs(blocks))
    for block in blocks:
        yield from _unspoken(block)


def _unspoken(block: Block) -> Iterator[Printed]:
    """What of a block is not running text."""
    if isinstance(block, Verbatim):
        yield Printed(block.text, block.span)
    elif isinstance(block, Figure):
        yield from (Printed(i.label, i.span) for i in block.items)
    elif isinstance(block, Calculation):
        yield from (Printed(g.value, g.value_span) for g in block.given)
    elif isinstance(block, Panel):
        yield from (Printed(n.text, n.span) for n in block.sources)
    elif isinstance(block, (Quote, Listing)):
        for inner in (block.blocks,) if isinstance(block, Quote) else block.items:
            for each in inner:
                yield from _unspoken(each)


def _front(document: Document, keys: tuple[str, ...]) -> Iterator[Printed]:
    data = document.front.model_dump(include=set(keys))
    for key in keys:
        yield from _leaves(document, (key,), data.get(key))


def _leaves(document: Document, loc: Loc, value: Any) -> Iterator[Printed]:
    if isinstance(value, dict):
        for key, inner in value.items():
            if loc in (("sources",), ("switches",)):
                yield Printed(str(key), document.places.key(*loc, key))
            if key != "also":
                yield from _leaves(document, (*loc, key), inner)
    elif isinstance(value, (tuple, list)):
        for n, inner in enumerate(value):
            yield from _leaves(document, (*loc, n), inner)
    elif isinstance(value, str):
        shown = tuple(str(p).replace("_", "-") if isinstance(p, str) else p for p in loc)
        yield Printed(value, document.places.of(*shown))
