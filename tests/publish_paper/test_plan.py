"""Where pages stand on a sheet: each once, inside, apart, its back right behind it."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kilter.publish.paper.order import Card, Job, folds, sheets
from kilter.publish.paper.plan import SHEETS, Paper, TooLargeError, booklet, grid_for

from .frame import corners, seen_through

SIZES = [Paper(148, 210), Paper(210, 297), Paper(297, 210), Paper(76, 146), Paper(105, 148)]
cards = st.lists(
    st.builds(Card, st.sampled_from(SIZES), st.integers(1, 13), st.booleans()), min_size=1, max_size=6
)
papers = st.sampled_from([SHEETS["a4"], SHEETS["a3"]])
flips = st.sampled_from(["long", "short", "none"])
layouts = st.sampled_from(["cut", "same", "booklet"])
jobs = st.builds(Job, papers, layouts, flips, st.integers(1, 4))


def landed(made):
    return Counter(placed.page for sheet in made for side in sheet.sides for placed in side)


@pytest.mark.parametrize(
    ("card", "sheet", "columns", "rows", "paper"),
    [
        (Paper(148, 210), "a4", 2, 1, (297, 210)),
        (Paper(210, 297), "a4", 1, 1, (210, 297)),
        (Paper(297, 210), "a4", 1, 1, (297, 210)),
        (Paper(76, 146), "a4", 2, 2, (210, 297)),
        (Paper(76, 146), "letter", 3, 1, (279.4, 215.9)),
        (Paper(148, 210), "letter", 1, 1, (215.9, 279.4)),
        (Paper(148, 210), "a3", 2, 2, (297, 420)),
    ],
)
def test_as_many_as_fit(card, sheet, columns, rows, paper):
    grid = grid_for(card, SHEETS[sheet])
    assert (grid.columns, grid.rows, tuple(grid.paper)) == (columns, rows, paper)


def test_what_does_not_fit_is_refused_not_made_smaller():
    with pytest.raises(TooLargeError):
        grid_for(Paper(210, 297), SHEETS["letter"])


@given(cards, jobs)
def test_every_page_lands_as_often_as_copies_are_wanted(given_cards, job):
    found = landed(sheets(given_cards, job))
    for n, card in enumerate(given_cards):
        places = grid_for(card.paper, job.sheet).places
        wanted = -(-job.copies // places) * places if job.layout == "same" else job.copies
        assert [found[(n, page)] for page in range(card.pages)] == [wanted] * card.pages
    assert len(found) == sum(card.pages for card in given_cards)


@given(cards, jobs)
def test_pages_lie_inside_the_sheet_and_apart(given_cards, job):
    for sheet in sheets(given_cards, job):
        width, height = sheet.grid.paper
        for side in sheet.sides:
            boxes = [corners(placed.spot, sheet.grid) for placed in side]
            spans = [
                (min(x for x, _ in b), max(x for x, _ in b), min(y for _, y in b), max(y for _, y in b))
                for b in boxes
            ]
            for n, (left, right, low, high) in enumerate(spans):
                assert left >= -0.05 and low >= -0.05 and right <= width + 0.05 and high <= height + 0.05
                for other in spans[n + 1 :]:
                    assert (
                        right <= other[0] + 1e-6
                        or other[1] <= left + 1e-6
                        or high <= other[2] + 1e-6
                        or other[3] <= low + 1e-6
                    )


@given(cards, jobs)
def test_held_to_the_light_a_back_is_the_mirror_of_its_front(given_cards, job):
    """Upper left of the back stands behind upper right of the front: cut out, the card turns like a page."""
    for sheet in sheets(given_cards, job):
        if len(sheet.sides) == 1:
            assert job.flip == "none"
            continue
        front, back = sheet.sides
        behind = {}
        for placed in back:
            points = [seen_through(p, sheet.grid, job.flip) for p in corners(placed.spot, sheet.grid)]
            behind[placed.page] = [(round(x, 6), round(y, 6)) for x, y in points]
            a, b, c, d = behind[placed.page]
            fronts = [
                f
                for f in front
                if [(round(x, 6), round(y, 6)) for x, y in corners(f.spot, sheet.grid)] == [b, a, d, c]
            ]
            if not fronts:
                assert folds(given_cards[placed.page.source], job), (
                    "only a booklet has a back without a front"
                )
                continue
            if not folds(given_cards[placed.page.source], job):
                (own,) = fronts
                assert own.page == (placed.page.source, placed.page.page - 1)


@given(cards, jobs)
def test_cards_of_several_leaves_never_share_a_sheet(given_cards, job):
    for sheet in sheets(given_cards, job):
        sources = {placed.page.source for side in sheet.sides for placed in side}
        if len(sources) > 1:
            one_leaf = 2 if job.flip != "none" else 1
            assert all(
                given_cards[n].pages <= (one_leaf if given_cards[n].both_sides else 1) for n in sources
            )


@pytest.mark.parametrize(
    ("pages", "layout", "flip", "copies", "wanted"),
    [
        (4, "cut", "long", 1, 1),
        (5, "cut", "long", 1, 2),
        (4, "cut", "none", 1, 2),
        (4, "cut", "long", 3, 3),
        (4, "same", "long", 1, 2),
        (4, "same", "long", 2, 2),
        (4, "same", "long", 3, 4),
        (15, "booklet", "short", 1, 4),
        (4, "booklet", "short", 2, 2),
        (2, "cut", "long", 4, 2),
    ],
)
def test_how_much_paper_an_a5_card_takes(pages, layout, flip, copies, wanted):
    card = Card(Paper(148, 210), pages, True)
    assert len(list(sheets([card], Job(SHEETS["a4"], layout, flip, copies)))) == wanted


@given(st.integers(3, 40), st.sampled_from(["long", "short"]))
def test_a_folded_booklet_reads_in_order(pages, flip):
    """Laid on each other and folded: through the right halves inwards, through the left halves out again."""
    made = list(sheets([Card(Paper(148, 210), pages, True)], Job(SHEETS["a4"], "booklet", flip)))
    inwards, outwards = [], []
    for sheet in made:
        half = {}
        for side, placed in ((n, p) for n, whole in enumerate(sheet.sides) for p in whole):
            points = corners(placed.spot, sheet.grid)
            at = points if side == 0 else [seen_through(p, sheet.grid, flip) for p in points]
            half[(side, sum(x for x, _ in at) / 4 > sheet.grid.paper.width / 2)] = placed.page.page
        inwards += [half.get((0, True)), half.get((1, True))]
        outwards = [half.get((1, False)), half.get((0, False)), *outwards]
    read = inwards + outwards
    assert read[:pages] == list(range(pages))
    assert read[pages:] == [None] * (len(made) * 4 - pages) and len(made) == -(-pages // 4)


def test_the_order_of_one_sheet_is_four_one_two_three():
    """Order as in any manual of bookbinding (common practice, no source)."""
    assert [(leaf.front.page + 1, leaf.back.page + 1) for leaf in booklet(0, 4)] == [(4, 3), (1, 2)]


def test_the_proof_of_registration_sees_a_back_that_is_not_mirrored():
    grid = grid_for(Paper(148, 210), SHEETS["a4"])
    assert grid.back(0, "short") == grid.front(1) and grid.back(0, "short") != grid.front(0)
    assert grid.back(0, "long") == (0.5, 0.0, True)
