"""Blocks of a document as data for the templates."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NotRequired, TypedDict

from kilter.model.text import Block, Calculation, Figure, Listing, Panel, Paragraph, Quote, Table, Verbatim
from kilter.publish.cards.calculations import WorkedData, worked_data
from kilter.publish.cards.inline import Inline, Scope, inlines, printable
from kilter.publish.cards.pictures import FigureData, figures_data
from kilter.publish.cards.shortly import shortly
from kilter.publish.worked import answered

_Plain = Paragraph | Listing | Table | Verbatim | Quote | Panel | Calculation


class PanelData(TypedDict):
    """A signal-word panel."""

    word: str
    sources: str
    blocks: list[BlockData]
    lead: str
    """The hazard, where the panel is printed again in short; empty where it is printed whole."""
    avoid: str


class BlockData(TypedDict):
    """One block. `t` is its kind: paragraph, list, table, verbatim, quote, figure, panel or calc."""

    t: str
    r: NotRequired[list[Inline]]
    items: NotRequired[list[list[BlockData]]]
    marks: NotRequired[list[str]]
    header: NotRequired[list[list[Inline]]]
    rows: NotRequired[list[list[list[Inline]]]]
    lines: NotRequired[list[str]]
    blocks: NotRequired[list[BlockData]]
    figure: NotRequired[FigureData]
    panel: NotRequired[PanelData]
    worked: NotRequired[WorkedData]


def blocks_data(blocks: Iterable[Block], scope: Scope) -> list[BlockData]:
    """Blocks in the author's order."""
    found: list[BlockData] = []
    for block in blocks:
        if isinstance(block, Figure):
            drawn = figures_data(block, _caption(block, scope), scope)
            found += [{"t": "figure", "figure": each} for each in drawn]
        else:
            found.append(_block(block, scope))
    return found


def panel_data(panel: Panel, scope: Scope) -> PanelData:
    """A panel; its links are words only, since it may be printed again."""
    sources = ", ".join(n.text for n in panel.sources)
    lead, avoid = shortly(panel)
    return {
        "word": panel.word.upper(),
        "sources": printable(sources),
        "blocks": blocks_data(panel.blocks, scope.quiet()),
        "lead": printable(lead),
        "avoid": printable(avoid),
    }


def _block(block: _Plain, scope: Scope) -> BlockData:
    if isinstance(block, Paragraph):
        return {"t": "paragraph", "r": inlines(block.runs, scope)}
    if isinstance(block, Listing):
        return _listing(block, scope)
    if isinstance(block, Table):
        return _table(block, scope)
    if isinstance(block, Verbatim):
        return {"t": "verbatim", "lines": [_kept(line) for line in block.text.rstrip("\n").split("\n")]}
    if isinstance(block, Quote):
        return {"t": "quote", "blocks": blocks_data(block.blocks, scope)}
    if isinstance(block, Panel):
        return {"t": "panel", "panel": panel_data(block, scope)}
    shown = worked_data(answered(block, scope.view.answer))
    return {"t": "calc", "worked": shown, "blocks": blocks_data(block.caption, scope)}


def _listing(block: Listing, scope: Scope) -> BlockData:
    marks = [f"{block.start + n}." if block.ordered else "–" for n in range(len(block.items))]
    return {"t": "list", "items": [blocks_data(item, scope) for item in block.items], "marks": marks}


def _table(block: Table, scope: Scope) -> BlockData:
    return {
        "t": "table",
        "header": [inlines(p.runs, scope) for p in block.header],
        "rows": [[inlines(p.runs, scope) for p in row] for row in block.rows],
    }


def _kept(line: str) -> str:
    """A line whose blanks all stay."""
    return printable(re.sub(r"^ +|  +", lambda m: "\u00a0" * len(m.group()), line.expandtabs(4))) or "\u00a0"


def _caption(figure: Figure, scope: Scope) -> list[Inline]:
    found: list[Inline] = []
    for block in figure.caption:
        if isinstance(block, Paragraph):
            if found:
                found.append({"t": "text", "s": " "})
            found += inlines(block.runs, scope)
    return found
