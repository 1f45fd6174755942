"""The printer's PDF: pages at their places and their own size, marks beside them, same bytes each time."""

from __future__ import annotations

import io

import pikepdf
import pytest
from PIL import Image, ImageChops, ImageStat

from kilter.publish.paper.impose import Entry, crop_marks, impose
from kilter.publish.paper.order import Card, Job, sheets
from kilter.publish.paper.plan import SHEETS, Paper, grid_for

from .frame import PIXELS, rasters, source

A5 = Paper(148, 210)


def cut_out(side: Image.Image, placed, grid) -> Image.Image:
    left, top = (
        placed.spot.left * PIXELS,
        (grid.paper.height - placed.spot.bottom - grid.card.height) * PIXELS,
    )
    box = [round(v) for v in (left, top, left + grid.card.width * PIXELS, top + grid.card.height * PIXELS)]
    found = side.crop(tuple(box))
    return found.transpose(Image.Transpose.ROTATE_180) if placed.spot.upside_down else found


def differ(a: Image.Image, b: Image.Image) -> float:
    """Mean difference, of 255."""
    return ImageStat.Stat(ImageChops.difference(a, b.resize(a.size))).mean[0]


@pytest.mark.parametrize("flip", ["long", "short", "none"])
@pytest.mark.parametrize("layout", ["cut", "same", "booklet"])
@pytest.mark.parametrize(("size", "pages"), [(A5, 5), (Paper(76, 146), 2), (Paper(297, 210), 3)])
def test_each_page_is_printed_where_the_plan_says_at_its_own_size(flip, layout, size, pages):
    pdf = source(*size, pages)
    planned = list(sheets([Card(size, pages, True)], Job(SHEETS["a4"], layout, flip)))
    printed = rasters(impose([pdf], planned, "t"))
    originals = rasters(pdf)
    flat = [(sheet.grid, side) for sheet in planned for side in sheet.sides]
    assert len(printed) == len(flat)
    for image, (grid, side) in zip(printed, flat, strict=True):
        assert (image.width, image.height) == tuple(round(v * PIXELS) for v in grid.paper)
        left_over = image.copy()
        for placed in side:
            piece = cut_out(image, placed, grid)
            assert differ(originals[placed.page.page], piece) < 1.5
            others = [differ(o, piece) for n, o in enumerate(originals) if n != placed.page.page]
            assert all(d > 10 for d in others), "the pages can be told apart"
            corner = (
                round(placed.spot.left * PIXELS),
                round((grid.paper.height - placed.spot.bottom - grid.card.height) * PIXELS),
            )
            left_over.paste(255, (*corner, corner[0] + piece.width, corner[1] + piece.height))
        assert left_over.getextrema()[0] > 200, "nothing is printed beside the cards"


def test_sources_of_one_size_are_not_mixed_up():
    pdfs = [source(76, 146, 2, seed) for seed in range(5)]
    planned = list(sheets([Card(Paper(76, 146), 2, True)] * 5, Job(SHEETS["a4"])))
    assert len(planned) == 2
    printed = rasters(impose(pdfs, planned, "t"))
    originals = [rasters(pdf) for pdf in pdfs]
    for image, (grid, side) in zip(
        printed, [(s.grid, side) for s in planned for side in s.sides], strict=True
    ):
        for placed in side:
            assert differ(originals[placed.page.source][placed.page.page], cut_out(image, placed, grid)) < 1.5


def test_crop_marks_stand_on_the_cuts_and_never_in_what_is_printed():
    grid = grid_for(Paper(76, 146), SHEETS["letter"])
    marks = list(crop_marks(grid))
    assert sorted({x1 for x1, _, x2, _ in marks if x1 == x2}) == pytest.approx(
        [grid.left + n * 76 for n in range(4)]
    )
    for x1, y1, x2, y2 in marks:
        outside = max(x1, x2) < grid.left or min(x1, x2) > grid.left + 228 or max(y1, y2) < grid.bottom
        assert outside or min(y1, y2) > grid.bottom + 146


def test_where_there_is_no_room_the_marks_stay_in_the_blank_edge():
    """Cards keep 9 mm free (frame.typ); of an A5 pair only the cut between them is marked."""
    grid = grid_for(A5, SHEETS["a4"])
    assert list(crop_marks(grid)) == [(148.5, 0.0, 148.5, 7.0), (148.5, 203.0, 148.5, 210.0)]


def test_marks_are_drawn_only_when_asked_for():
    pdf, plan = source(*A5, 2), list(sheets([Card(A5, 2, True)], Job(SHEETS["a4"], "same")))
    plain, marked = (rasters(impose([pdf], plan, "t", marks))[0] for marks in (False, True))
    assert differ(plain, marked) > 0


def test_the_same_input_gives_the_same_bytes_and_a_page_is_held_once():
    pdf = source(*A5, 4)
    job = Job(SHEETS["a4"], "same", copies=20)
    many = list(sheets([Card(A5, 4, True)], job))
    first, second = (impose([pdf], many, "t", True, [Entry("a", 1)]) for _ in range(2))
    assert first == second
    few = impose([pdf], sheets([Card(A5, 4, True)], Job(SHEETS["a4"], "same")), "t")
    assert len(first) < len(few) * 3, "twenty copies do not take twenty times the room"
    with pikepdf.open(io.BytesIO(first)) as made, made.open_outline() as outline:
        assert [line.title for line in outline.root] == ["a"]
        assert str(made.docinfo["/Title"]) == "t" and len(made.pages) == 40
