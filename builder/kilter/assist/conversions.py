"""Values shown in another unit: an editor's offer at a value, never a finding."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.marked import marked_values
from kilter.check.workspace import Workspace
from kilter.compute.display import in_unit, other_unit
from kilter.compute.quantity import QuantityError, parse_quantity
from kilter.compute.value import Quantity
from kilter.diagnostic import Edit, Fix
from kilter.model.document import Document
from kilter.model.text import Calculation
from kilter.read.cures import one_row, text_at
from kilter.source import Source, Span


def conversions(workspace: Workspace, path: str, first: int, last: int) -> list[Fix]:
    """For each value in the 1-based rows `first` to `last`: the same in the other system, rounded inward."""
    document, source = workspace.library.documents.get(path), workspace.library.sources.get(path)
    if document is None or source is None:
        return []
    found = (
        _shown(source, span, quantity) for span, quantity in _values(document) if first <= span.line <= last
    )
    return [fix for fix in found if fix is not None]


def _values(document: Document) -> Iterator[tuple[Span, Quantity]]:
    """Marked values but for times, and the inputs of calculations."""
    for marked in marked_values(document):
        if marked.quantity is not None:
            yield marked.span, marked.quantity
    for blocks in document.all_blocks():
        for block in blocks:
            for given in block.given if isinstance(block, Calculation) else ():
                try:
                    yield given.value_span, parse_quantity(given.value)
                except QuantityError:
                    continue


def _shown(source: Source, span: Span, quantity: Quantity) -> Fix | None:
    unit = other_unit(quantity)
    text = quantity.text.strip()
    written = text_at(source, span)
    if unit is None or not one_row(span) or written.count(text) != 1:
        return None
    try:
        shown = in_unit(quantity, unit)
        parse_quantity(shown)
    except (QuantityError, ValueError):
        return None
    at = span.column - 1 + written.index(text)
    return Fix(f"show as {shown}", (Edit(source.in_row(span.line - 1, at, at + len(text)), shown),))
