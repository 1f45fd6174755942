"""Crop, cover and detail: what is shown, what is gone, and where a place of the source comes to lie."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageDraw, ImageFont, ImageStat
from tests.picture.frame import near, pixels, saved, scene

from kilter.compute.pictureplan import Box, Inset, Plan, Size
from kilter.picture.compose import COVER
from kilter.picture.decode import decoded
from kilter.picture.encode import Kind, published, variants

KINDS: tuple[Kind, ...] = ("webp", "jpeg", "png")
RED = (255, 0, 0)


def _with_label(words: str, size: tuple[int, int] = (1600, 1200)) -> Image.Image:
    made = scene(*size).copy()
    ImageDraw.Draw(made).rectangle((700, 500, 899, 579), fill="white")
    ImageDraw.Draw(made).text((710, 510), words, fill="black", font_size=30)
    assert ImageDraw.Draw(made).textlength(words, ImageFont.load_default(30)) < 180, (
        "the words stay under the cover"
    )
    return made


LABEL = Plan(covers=(Box(700, 500, 200, 80),))


@pytest.mark.parametrize("turned", [1, 2, 3, 4, 5, 6, 7, 8])
@pytest.mark.parametrize("subsampling", [0, 2])
def test_what_was_under_a_cover_makes_no_difference_at_all(
    turned: int, subsampling: int, tmp_path: Path
) -> None:
    """A JPEG is stored in blocks of up to 16 pixels (ITU-T T.81, A.2), so its cover reaches out to their edges."""
    exif = Image.Exif()
    exif[0x0112] = turned
    files = []
    for n, words in enumerate(("A. Nurse", "Bed 12 ####")):
        # laid so that the label is where the cover is, once the picture is upright
        laid = _laid(_with_label(words), turned)
        files.append(tmp_path / f"{n}.jpg")
        files[n].write_bytes(saved(laid, "JPEG", exif=exif, quality=90, subsampling=subsampling))
    wanted: list[tuple[int, Kind]] = [(1440, "jpeg"), (240, "png")]
    one, two = (variants(f, wanted, LABEL) for f in files)
    assert [p.data for p in one] == [p.data for p in two]
    assert not {p.name for p in one} & {p.name for p in two}
    bare = [variants(f, wanted) for f in files]
    assert [p.data for p in bare[0]] != [p.data for p in bare[1]]


def _laid(picture: Image.Image, turned: int) -> Image.Image:
    back = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    return picture.transpose(back[turned]) if turned in back else picture


@pytest.mark.parametrize(
    ("size", "widths"),
    [((1600, 1200), (720, 1440)), ((1667, 1252), (240, 480))],
    ids=["as it is", "smaller"],
)
def test_the_same_holds_for_a_picture_that_is_made_smaller_first(
    size: tuple[int, int], widths: tuple[int, int], tmp_path: Path
) -> None:
    """By a whole number of pixels, which does not go into the size here."""
    for kind in ("PNG", "JPEG"):
        files = [tmp_path / f"{n}.{kind.lower()}" for n in range(2)]
        options = {"compress_level": 1} if kind == "PNG" else {}
        for file, words in zip(files, ("A. Nurse", "Bed 12 ####"), strict=True):
            file.write_bytes(saved(_with_label(words, size), kind, **options))
        step = decoded(files[0].read_bytes(), widths[1] / size[0]).step
        assert (step > 1) is (size[0] > 2 * widths[1])
        one, two = (variants(f, [(widths[0], "jpeg"), (widths[1], "webp")], LABEL) for f in files)
        assert [p.data for p in one] == [p.data for p in two]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("width", [1440, 720, 360])
def test_a_cover_is_one_flat_colour(kind: Kind, width: int, tmp_path: Path) -> None:
    """A blur leaves 235 values of a covered QR code, coarse blocks 46; measured when this was designed."""
    source = tmp_path / "a.jpg"
    source.write_bytes(saved(_with_label("A. Nurse"), "JPEG"))
    made = published(source, width, kind, LABEL)
    left, top, right, bottom = (n * made.scale for n in (700, 500, 900, 580))
    part = pixels(made.data).crop((round(left) + 8, round(top) + 8, round(right) - 8, round(bottom) - 8))
    assert part.width > 20
    assert all(spread < 1 for spread in ImageStat.Stat(part).stddev)
    assert all(abs(mean - COVER[0]) < 2 for mean in ImageStat.Stat(part).mean)


def test_details_are_cut_out_of_the_covered_picture(tmp_path: Path) -> None:
    plan = Plan(covers=LABEL.covers, insets=(Inset(Box(740, 520, 100, 40), "upper left", 4),))
    source = tmp_path / "a.png"
    source.write_bytes(saved(_with_label("A. Nurse"), "PNG"))
    made = published(source, 1440, "png", plan)
    inset = plan.inset_box(plan.insets[0], made.size)
    box = [n * made.scale for n in (inset.x + 8, inset.y + 8, inset.right - 8, inset.bottom - 8)]
    part = pixels(made.data).crop((round(box[0]), round(box[1]), round(box[2]), round(box[3])))
    assert part.getextrema() == ((COVER[0], COVER[0]),) * 3


def test_what_a_crop_cuts_off_makes_no_difference(tmp_path: Path) -> None:
    plan = Plan(crop=Box(400, 300, 250, 600))
    files = [tmp_path / f"{n}.png" for n in range(2)]
    for file, words in zip(files, ("A. Nurse", "Bed 12 ####"), strict=True):
        file.write_bytes(saved(_with_label(words), "PNG"))
    one, two = (published(f, 200, "png", plan) for f in files)
    assert one.data == two.data
    assert (one.width, one.height) == (200, 480)


@pytest.mark.parametrize("source_size", [(1600, 1200), (4032, 3024)])
@pytest.mark.parametrize("crop", [None, Box(200, 100, 1203, 877)])
@pytest.mark.parametrize("width", [1440, 360])
def test_a_mark_comes_out_where_the_mapping_says(
    source_size: tuple[int, int], crop: Box | None, width: int, tmp_path: Path
) -> None:
    laid = Image.new("RGB", source_size, "white")
    ImageDraw.Draw(laid).ellipse((840, 540, 880, 580), fill="red")
    source = tmp_path / "a.jpg"
    source.write_bytes(saved(laid, "JPEG", quality=95, subsampling=0))
    made = published(source, width, "png", Plan(crop=crop))
    x, y = made.at(860.5, 560.5)
    found = _middle_of_red(pixels(made.data))
    assert abs(found[0] - x) <= 1.5 and abs(found[1] - y) <= 1.5, (found, (x, y))


def _middle_of_red(picture: Image.Image) -> tuple[float, float]:
    """The middle of what is more red than not."""
    mask = picture.getchannel("G").point([255 if v < 128 else 0 for v in range(256)])
    box = mask.getbbox()
    assert box is not None
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


@pytest.mark.parametrize("place", ["upper left", "upper right", "lower left", "lower right"])
def test_an_item_in_a_detail_is_pointed_out_in_the_enlargement(place: str, tmp_path: Path) -> None:
    laid = Image.new("RGB", (1600, 1200), "white")
    ImageDraw.Draw(laid).rectangle((770, 560, 829, 599), fill="red")
    source = tmp_path / "a.png"
    source.write_bytes(saved(laid, "PNG"))
    plan = Plan(insets=(Inset(Box(740, 530, 120, 100), place, 4),))
    made = published(source, 1440, "png", plan)
    seen = pixels(made.data)
    for at in ((775, 565), (825, 595)):
        x, y = made.at(*at)
        assert near(seen, (round(x), round(y)), RED)
        assert (x < 720) == place.endswith("left") and (y < 540) == place.startswith("upper")
    outside = made.at(700, 565)
    assert outside == pytest.approx((700 * 0.9, 565 * 0.9))
    # the part itself stays as it is, under its frame
    assert near(seen, (round(800 * 0.9), round(580 * 0.9)), RED)


def _mark(colour: int) -> Image.Image:
    return Image.new("RGB", (80, 60), (colour, 0, 0))


boxes = st.builds(Box, st.integers(0, 60), st.integers(0, 40), st.integers(1, 90), st.integers(1, 70))


@settings(max_examples=60, deadline=None)
@given(st.one_of(st.none(), boxes), st.lists(boxes, max_size=3), st.integers(1, 200))
def test_any_area_inside_the_picture_can_be_made(
    tmp_path_factory: pytest.TempPathFactory, crop: Box | None, covers: list[Box], width: int
) -> None:
    whole = Box(0, 0, 80, 60)
    crop = crop if crop and crop.within(whole) else None
    source = tmp_path_factory.getbasetemp() / "any.png"
    if not source.is_file():
        source.write_bytes(saved(_mark(200), "PNG"))
    made = published(source, width, "png", Plan(crop, tuple(covers)))
    seen = pixels(made.data)
    assert seen.size == (made.width, made.height)
    assert made.width == min(width, crop.width if crop else 80)


@given(boxes, st.floats(0, 79), st.floats(0, 59))
def test_the_mapping_is_a_plain_shift_without_details(crop: Box, x: float, y: float) -> None:
    assert Plan().place(x, y, Size(80, 60)) == (x, y)
    assert Plan(crop=crop).place(x, y, Size(80, 60)) == (x - crop.x, y - crop.y)
