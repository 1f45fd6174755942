"""What a module's papers would print that the typeface does not have, said as the educator would mend it."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from kilter.check.rules.cards.glyph_missing import missing_in
from kilter.diagnostic import Diagnostic, error
from kilter.model.text import Block, Figure, Verbatim, paragraphs, plain
from kilter.model.training import Fault, Module, OwnQuestion, Taken
from kilter.publish.view import picture_path
from kilter.source import Span


def problems_of(module: Module) -> list[Diagnostic]:
    """Characters without a glyph, and own pictures that are not there; each once."""
    glyphs = [f for text, span in _texts(module) for f in missing_in(text, span)]
    return list(dict.fromkeys([*glyphs, *_pictures(module)]))


def _texts(module: Module) -> Iterator[tuple[str, Span]]:
    front, places = module.front, module.places
    yield module.title or front.title, module.title_span
    yield front.audience or "", places.of("audience")
    yield ", ".join(front.writers), places.of("writers")
    for name, objective in front.objectives.items():
        yield objective.text, places.of("objectives", name)
    for lesson in module.lessons:
        yield lesson.title, lesson.heading_span
        for part in lesson.parts:
            yield part.title, part.heading_span
    for block in module.all_blocks:
        if isinstance(block, OwnQuestion):
            yield from ((f"{c.text} {c.why}", c.span) for c in block.choices)
        elif isinstance(block, Fault):
            yield " ".join((block.sets, block.shows, block.undo, block.prove)), block.place
    for block in _own(module):
        yield from ((plain(p.runs), p.span) for p in paragraphs((block,)))
        if isinstance(block, Verbatim):
            yield block.text, block.span
        elif isinstance(block, Figure):
            yield " ".join(i.label for i in block.items), block.span


def _own(module: Module) -> Iterator[Block]:
    """Blocks of the educator's own, wherever they stand."""
    for block in module.all_blocks:
        if isinstance(block, Taken):
            yield from block.caption
        elif isinstance(block, OwnQuestion):
            yield from block.stem
        elif isinstance(block, Fault):
            yield from block.notes
        else:
            yield block


def _pictures(module: Module) -> Iterator[Diagnostic]:
    for block in _own(module):
        for figure in block.pictures if isinstance(block, Figure) else ():
            if not Path(picture_path(module, figure)).is_file():  # type: ignore[arg-type]
                help = "put it there, or take the figure of a document: `:::{from} LFT-120 fig-boom`"
                yield error("picture-missing", f"no picture `{figure.path}`", figure.path_span, help)
