"""Which page of a card stands where on a printer's sheet: arithmetic alone. Lengths in mm, from the lower left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import floor
from typing import Literal, NamedTuple

Flip = Literal["long", "short", "none"]
"""The edge over which the printer turns a sheet; `none` prints one side only."""

SLACK = 0.05
"""A page of typst is 297.00006 mm high on a sheet of 297 mm."""


class Paper(NamedTuple):
    """A size, of a sheet or of a card."""

    width: float
    height: float

    @property
    def turned(self) -> Paper:
        return Paper(self.height, self.width)


SHEETS = {
    "a3": Paper(297, 420),
    "a4": Paper(210, 297),
    "a5": Paper(148, 210),
    "letter": Paper(215.9, 279.4),
}
"""ISO 216; letter is ANSI/ASME Y14.1 size A, 8.5 x 11 in."""


class Page(NamedTuple):
    """A page of one of the PDFs that are put on the sheets; both count from 0."""

    source: int
    page: int


class Leaf(NamedTuple):
    """What is cut out: a page, and the one on its back."""

    front: Page | None
    back: Page | None = None


class Spot(NamedTuple):
    """Lower left corner of a page on the sheet; `upside_down` is turned by 180° about its own middle."""

    left: float
    bottom: float
    upside_down: bool = False


class Placed(NamedTuple):
    page: Page
    spot: Spot


Side = tuple[Placed, ...]
"""One side of a sheet, empty where it stays blank."""


class TooLargeError(Exception):
    """A card larger than the sheet. Cards are never made smaller: their sizes are those that can be read."""


@dataclass(frozen=True)
class Grid:
    """Places for equal cards on a sheet: close together, in the middle of it."""

    paper: Paper
    card: Paper
    columns: int
    rows: int

    @property
    def places(self) -> int:
        return self.columns * self.rows

    @property
    def left(self) -> float:
        return (self.paper.width - self.columns * self.card.width) / 2

    @property
    def bottom(self) -> float:
        return (self.paper.height - self.rows * self.card.height) / 2

    def front(self, place: int) -> Spot:
        """Places count along the rows from the upper left."""
        row, column = divmod(place, self.columns)
        up = self.rows - 1 - row
        return Spot(self.left + column * self.card.width, self.bottom + up * self.card.height)

    def back(self, place: int, flip: Flip) -> Spot:
        """Behind `front(place)` once the sheet is turned over, so that the card turns like a page of a book.

        Turned over an upright edge, left and right change places. Turned over the upper edge, above and below do,
        and the back is printed upside down so that it stands upright behind its front.
        """
        spot = self.front(place)
        if (flip == "long") == (self.paper.height >= self.paper.width):
            return Spot(self.paper.width - spot.left - self.card.width, spot.bottom)
        return Spot(spot.left, self.paper.height - spot.bottom - self.card.height, upside_down=True)


def grid_for(card: Paper, sheet: Paper) -> Grid:
    """As many as fit, with the sheet upright or on its side; where both hold as many, as the card lies."""
    upright = (card.height >= card.width) == (sheet.height >= sheet.width)
    both = (sheet, sheet.turned) if upright else (sheet.turned, sheet)
    best = max((_grid(card, paper) for paper in both), key=lambda grid: grid.places)
    if not best.places:
        raise TooLargeError
    return best


def _grid(card: Paper, paper: Paper) -> Grid:
    across, down = (floor((a + SLACK) / b) for a, b in zip(paper, card, strict=True))
    return Grid(paper, card, across, down)


def leaves(source: int, pages: int, both_sides: bool) -> list[Leaf]:
    """A card's pages in order, two to a leaf or one."""
    if not both_sides:
        return [Leaf(Page(source, n)) for n in range(pages)]
    return [Leaf(Page(source, n), Page(source, n + 1) if n + 1 < pages else None) for n in range(0, pages, 2)]


def booklet(source: int, pages: int) -> list[Leaf]:
    """Leaves, left and right in turn, of sheets that are laid on each other and folded: (4,1) with (2,3) behind."""
    whole = (pages + 3) // 4 * 4

    def page(n: int) -> Page | None:
        return Page(source, n) if n < pages else None

    found = []
    for n in range(0, whole // 2, 2):
        found.append(Leaf(page(whole - 1 - n), page(whole - 2 - n)))
        found.append(Leaf(page(n), page(n + 1)))
    return found


def sides(grid: Grid, on: Sequence[Leaf], flip: Flip) -> Iterator[Side]:
    """The sides to print, sheet by sheet: fronts, and with a flip their backs, blank ones too."""
    for first in range(0, len(on), grid.places):
        sheet = on[first : first + grid.places]
        yield _placed((leaf.front, grid.front(n)) for n, leaf in enumerate(sheet))
        if flip != "none":
            yield _placed((leaf.back, grid.back(n, flip)) for n, leaf in enumerate(sheet))


def _placed(pairs: Iterable[tuple[Page | None, Spot]]) -> Side:
    return tuple(Placed(page, spot) for page, spot in pairs if page is not None)
