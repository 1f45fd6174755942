"""In which order the cards of a batch go onto sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import ceil
from typing import Literal, NamedTuple

from kilter.publish.paper.plan import Flip, Grid, Leaf, Paper, Side, booklet, grid_for, leaves, sides

Layout = Literal["cut", "same", "booklet"]
"""`cut`: pages in order, cut apart and stacked. `same`: every place of a sheet holds the same page, so that alike
cards come off one cut, as for lamination. `booklet`: folded in the middle."""


class Card(NamedTuple):
    """What is to be printed: one PDF by its size and number of pages."""

    paper: Paper
    pages: int
    both_sides: bool


class Sheet(NamedTuple):
    """Both sides of a sheet, or its front alone."""

    grid: Grid
    sides: tuple[Side, ...]


@dataclass(frozen=True)
class Job:
    """How a batch is printed."""

    sheet: Paper
    layout: Layout = "cut"
    flip: Flip = "long"
    copies: int = 1
    """Of each card at least: with `same` a sheet that is begun is filled."""


def folds(card: Card, job: Job) -> bool:
    """Whether a card comes as a booklet: two pages stand beside each other and there is something to fold."""
    grid = grid_for(card.paper, job.sheet)
    wanted = job.layout == "booklet" and card.both_sides and job.flip != "none"
    return wanted and (grid.columns, grid.rows) == (2, 1) and card.pages > 2


def sheets(cards: Sequence[Card], job: Job) -> Iterator[Sheet]:
    """Every sheet of the batch. A card of several leaves has sheets to itself; single ones share theirs.

    Raises TooLargeError for a card that no sheet can hold.
    """
    for (paper, alone), group in groupby(enumerate(cards), lambda pair: _kept_with(pair, job)):
        grid = grid_for(paper, job.sheet)
        runs = [_leaves(n, card, grid, job) for n, card in group]
        joined = [leaf for run in runs for leaf in run]
        for run in [joined] if alone < 0 else runs:
            all_sides = list(sides(grid, run, job.flip))
            step = 1 if job.flip == "none" else 2
            for n in range(0, len(all_sides), step):
                yield Sheet(grid, tuple(all_sides[n : n + step]))


def _kept_with(pair: tuple[int, Card], job: Job) -> tuple[Paper, int]:
    """Neighbours with the same answer share sheets: -1 is for cards of one leaf."""
    n, card = pair
    single = len(_own(n, card, job)) == 1 and job.layout != "same"
    return card.paper, -1 if single else n


def _own(n: int, card: Card, job: Job) -> list[Leaf]:
    if folds(card, job):
        return booklet(n, card.pages)
    return leaves(n, card.pages, card.both_sides and job.flip != "none")


def _leaves(n: int, card: Card, grid: Grid, job: Job) -> list[Leaf]:
    """One card's leaves in all its copies; each copy of several leaves begins a new sheet."""
    own = _own(n, card, job)
    if job.layout == "same":
        return [
            leaf for _ in range(ceil(job.copies / grid.places)) for leaf in own for _ in range(grid.places)
        ]
    if len(own) == 1:
        return own * job.copies
    short = -len(own) % grid.places
    return (own + [Leaf(None)] * short) * job.copies
