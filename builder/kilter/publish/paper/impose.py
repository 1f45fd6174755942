"""Sheets as a PDF. What comes out is for the printer only: the tags for screen readers are not carried over."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

import pikepdf

from kilter.publish.paper.order import Sheet
from kilter.publish.paper.plan import Grid, Page, Placed

MM = 72 / 25.4
"""Points in a millimetre."""
OUTSIDE, INSIDE = 5.0, 7.0
"""Length of a crop mark in mm: beside the cards, or where the sheet has no room there, in their blank edge of 9 mm."""
ROOM = 3.0
"""Below this much paper in mm beside the cards nothing of a mark would be printed."""
EDGE = 1.0
"""A card that ends nearer than this to the edge of the paper, mm, is not cut there."""


class Entry(NamedTuple):
    """A line of the file's outline; pages count from 0."""

    title: str
    page: int


def impose(
    sources: Sequence[bytes],
    sheets: Iterable[Sheet],
    title: str,
    marks: bool = False,
    outline: Sequence[Entry] = (),
) -> bytes:
    """Put the pages of the sources on their places at their own size; the same input gives the same bytes."""
    with pikepdf.new() as made:
        forms = _Forms(made, sources)
        for sheet in sheets:
            for side in sheet.sides:
                _add(made, forms, sheet.grid, side, marks)
        made.docinfo["/Title"] = title
        made.Root.Lang = pikepdf.String("en-GB")
        with made.open_outline() as lines:
            lines.root.extend(pikepdf.OutlineItem(entry.title, entry.page) for entry in outline)
        stream = io.BytesIO()
        made.save(stream, deterministic_id=True)
    return stream.getvalue()


class _Forms:
    """Pages as forms in the new file: one that is printed ten times is held once."""

    def __init__(self, made: pikepdf.Pdf, sources: Sequence[bytes]) -> None:
        self.made = made
        self.sources = [pikepdf.open(io.BytesIO(data)) for data in sources]
        self.kept: dict[Page, pikepdf.Object] = {}

    def of(self, page: Page) -> pikepdf.Object:
        if page not in self.kept:
            form = self.sources[page.source].pages[page.page].as_form_xobject()
            self.kept[page] = self.made.copy_foreign(form)
        return self.kept[page]


def _add(made: pikepdf.Pdf, forms: _Forms, grid: Grid, side: Sequence[Placed], marks: bool) -> None:
    width, height = grid.paper
    page = made.add_blank_page(page_size=(width * MM, height * MM))
    drawn = []
    for n, placed in enumerate(side):
        # a name of our own: pikepdf would make up another in each run
        name = page.add_resource(forms.of(placed.page), pikepdf.Name.XObject, pikepdf.Name(f"/Card{n}"))
        drawn.append(f"q {_matrix(grid, placed)} cm {name} Do Q")
    if marks and side:
        drawn.append("q 0.25 w " + " ".join(_line(*ends) for ends in crop_marks(grid)) + " S Q")
    page.Contents = made.make_stream("\n".join(drawn).encode())


def _matrix(grid: Grid, placed: Placed) -> str:
    left, bottom, upside_down = placed.spot
    if upside_down:
        return f"-1 0 0 -1 {_points(left + grid.card.width)} {_points(bottom + grid.card.height)}"
    return f"1 0 0 1 {_points(left)} {_points(bottom)}"


def _points(mm: float) -> str:
    return f"{mm * MM:.4f}"


def _line(x1: float, y1: float, x2: float, y2: float) -> str:
    return f"{_points(x1)} {_points(y1)} m {_points(x2)} {_points(y2)} l"


def crop_marks(grid: Grid) -> Iterator[tuple[float, float, float, float]]:
    """Short lines on every cut, at both of its ends: x1, y1, x2, y2 in mm."""
    width, height = grid.paper
    across = [grid.left + n * grid.card.width for n in range(grid.columns + 1)]
    up = [grid.bottom + n * grid.card.height for n in range(grid.rows + 1)]
    for x in across:
        if EDGE <= x <= width - EDGE:
            yield from ((x, a, x, b) for a, b in _ends(up[0], up[-1], height))
    for y in up:
        if EDGE <= y <= height - EDGE:
            yield from ((a, y, b, y) for a, b in _ends(across[0], across[-1], width))


def _ends(low: float, high: float, whole: float) -> Iterator[tuple[float, float]]:
    if low >= ROOM:
        yield low - min(OUTSIDE, low), low - 1
        yield high + 1, high + min(OUTSIDE, whole - high)
    else:
        yield low, low + INSIDE
        yield high - INSIDE, high
