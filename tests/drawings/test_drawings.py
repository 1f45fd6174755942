"""The figures of the demo library are the ones these scripts draw, and the text points where they say."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from .__main__ import FIGURES, LIBRARY, lines, strays

NAMES = sorted(FIGURES)


@pytest.mark.parametrize("name", NAMES)
def test_text_holds_the_computed_items(name: str) -> None:
    """Every document that shows a figure holds its items at the computed places."""
    assert strays(name, lines(FIGURES[name]())) == []


@pytest.mark.parametrize("name", NAMES)
def test_a_moved_item_is_noticed(name: str) -> None:
    """An item a pixel away from its computed place is found, so the test above can fail."""
    sheet = FIGURES[name]()
    label, (x, y) = sheet.items[0]
    sheet.items[0] = (label, (x + 1, y))
    assert strays(name, lines(sheet)) == lines(sheet)[:1]


@pytest.mark.parametrize("name", NAMES)
def test_items_lie_on_the_sheet(name: str) -> None:
    """Every item lies on the paper and two items never share a place."""
    sheet = FIGURES[name]()
    spots = [spot for _, spot in sheet.items]
    assert all(0 < x < sheet.size[0] and 0 < y < sheet.size[1] for x, y in spots)
    assert all(abs(a[0] - b[0]) + abs(a[1] - b[1]) > 12 for i, a in enumerate(spots) for b in spots[:i])


@pytest.mark.parametrize("name", NAMES)
def test_committed_picture_is_the_drawn_one(name: str, tmp_path: Path) -> None:
    """The committed PNG is small and is what the script draws; a new Pillow may differ by a hair."""
    FIGURES[name]().save(tmp_path / "new.png")
    assert (LIBRARY / name).stat().st_size < 60_000
    with Image.open(tmp_path / "new.png") as new, Image.open(LIBRARY / name) as old:
        assert new.size == old.size
        assert ImageStat.Stat(ImageChops.difference(new, old)).mean[0] < 0.5
