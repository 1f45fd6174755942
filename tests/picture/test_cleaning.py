"""Nothing that a camera writes beside the pixels is published; an independent program looks for it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageCms, ImageStat
from tests.picture.frame import (
    ORIENTATION,
    SECRET,
    near,
    orientations,
    pixels,
    saved,
    scene,
    telephone,
    told,
    too_much,
)

from kilter.compute.pictureplan import Plan
from kilter.picture.add import take
from kilter.picture.encode import Kind, published, variants

KINDS: tuple[Kind, ...] = ("webp", "jpeg", "png")


def test_the_photograph_has_what_is_looked_for(tmp_path: Path) -> None:
    """Else the other tests would find nothing in anything."""
    found = told(telephone(tmp_path / "a.jpg"))
    assert {"GPS", "IFD0", "ExifIFD", "IFD1", "IPTC", "ICC_Profile"} <= set(found)
    assert any(group.startswith("XMP") for group in found) and "Comment" in found["File"]
    assert {"GPS", "IFD0", "Comment"} <= set(too_much(tmp_path / "a.jpg"))


@pytest.mark.parametrize("kind", KINDS)
def test_exiftool_finds_pixels_alone(kind: Kind, tmp_path: Path) -> None:
    source = telephone(tmp_path / "a.jpg")
    for width in (1440, 360):
        made = published(source, width, kind)
        (tmp_path / made.name).write_bytes(made.data)
        assert too_much(tmp_path / made.name) == {}
        assert SECRET.encode() not in made.data


@pytest.mark.parametrize("kind", ["PNG", "WEBP"])
def test_other_sources_keep_nothing_either(kind: str, tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x010E] = SECRET
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    source = tmp_path / f"a.{kind.lower()}"
    source.write_bytes(saved(scene(), kind, exif=exif, icc_profile=profile))
    assert too_much(source)
    for made in variants(source, [(360, k) for k in KINDS]):
        (tmp_path / made.name).write_bytes(made.data)
        assert too_much(tmp_path / made.name) == {}


def test_no_run_of_the_original_is_in_what_is_made(tmp_path: Path) -> None:
    source = telephone(tmp_path / "a.jpg")
    original = source.read_bytes()
    runs = {original[at : at + 16] for at in range(2, len(original) - 16, 16)}
    made = published(source, 640, "jpeg").data
    body = made[made.index(b"\xff\xda") :]
    assert [run for run in runs if run in body and len(set(run)) > 4] == []


@pytest.mark.parametrize("turned", range(1, 9))
def test_every_way_of_holding_the_telephone_comes_out_upright(turned: int, tmp_path: Path) -> None:
    """EXIF 2.32, tag 0x0112; the picture is stored so that, turned as told, it is the scene again."""
    stored = {
        2: Image.Transpose.FLIP_LEFT_RIGHT,
        3: Image.Transpose.ROTATE_180,
        4: Image.Transpose.FLIP_TOP_BOTTOM,
        5: Image.Transpose.TRANSPOSE,
        6: Image.Transpose.ROTATE_90,
        7: Image.Transpose.TRANSVERSE,
        8: Image.Transpose.ROTATE_270,
    }
    exif = Image.Exif()
    exif[0x0112] = turned
    laid = scene().transpose(stored[turned]) if turned in stored else scene()
    source = tmp_path / "a.jpg"
    source.write_bytes(saved(laid, "JPEG", exif=exif, quality=95))
    made = published(source, 320)
    seen = pixels(made.data)
    assert seen.size == (320, 240)
    corners = {(8, 8): "red", (311, 8): "blue", (8, 231): "lime", (311, 231): "white"}
    wanted = {"red": (255, 0, 0), "blue": (0, 0, 255), "lime": (0, 255, 0), "white": (255, 255, 255)}
    assert [c for at, c in corners.items() if not near(seen, at, wanted[c])] == []


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_it_is_turned_as_exiftool_says(kind: str, tmp_path: Path) -> None:
    """What the tag means is taken from exiftool's words, not from ours; afterwards exiftool finds none."""
    files = [tmp_path / f"{turned}.{kind.lower()}" for turned in range(1, 9)]
    for turned, file in enumerate(files, start=1):
        exif = Image.Exif()
        exif[ORIENTATION] = turned
        options = {"quality": 95} if kind != "PNG" else {}
        file.write_bytes(saved(scene(), kind, exif=exif, **options))
    for file, words in zip(files, orientations(files), strict=True):
        wanted = scene().transpose(Image.Transpose.FLIP_LEFT_RIGHT) if "Mirror h" in words else scene()
        wanted = scene().transpose(Image.Transpose.FLIP_TOP_BOTTOM) if "Mirror v" in words else wanted
        clockwise = re.search(r"[Rr]otate (\d+)", words)
        wanted = wanted.rotate(-int(clockwise[1]) if clockwise else 0, expand=True)
        for n, data in enumerate((published(file, 640, "jpeg").data, take(file, Plan()).data)):
            seen = pixels(data)
            assert seen.size == wanted.size, words
            apart = ImageChops.difference(seen.resize((80, 80)), wanted.resize((80, 80)))
            assert max(ImageStat.Stat(apart).mean) < 6, words
            file.with_suffix(f".made{n}").write_bytes(data)
    assert len(set(orientations(files))) == 8
    assert set(orientations(sorted(tmp_path.glob("*.made*")))) == {""}


def test_colours_of_another_profile_are_turned_into_those_of_the_screen(tmp_path: Path) -> None:
    """The profile calls blue what its numbers call red: without it the picture would be red."""
    swapped = _profile_with_red_and_blue_swapped()
    source = tmp_path / "a.png"
    source.write_bytes(saved(Image.new("RGB", (64, 64), (255, 0, 0)), "PNG", icc_profile=swapped))
    assert near(pixels(published(source, 64, "png").data), (32, 32), (0, 0, 255), 12)


def _profile_with_red_and_blue_swapped() -> bytes:
    """sRGB with the places of two of its tags exchanged (ICC.1:2010, 7.3) and another name."""
    data = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = int.from_bytes(data[128:132], "big")
    entries = {bytes(data[132 + 12 * n : 136 + 12 * n]): 132 + 12 * n for n in range(count)}
    red, blue = entries[b"rXYZ"], entries[b"bXYZ"]
    data[red : red + 4], data[blue : blue + 4] = b"bXYZ", b"rXYZ"
    return bytes(data).replace("sRGB".encode("utf-16-be"), "test".encode("utf-16-be"))


def test_a_broken_profile_is_passed_over(tmp_path: Path) -> None:
    source = tmp_path / "a.png"
    source.write_bytes(saved(Image.new("RGB", (64, 64), (10, 200, 30)), "PNG", icc_profile=b"rubbish" * 40))
    assert near(pixels(published(source, 64, "png").data), (32, 32), (10, 200, 30), 1)


def test_the_same_picture_gives_the_same_bytes_and_names(tmp_path: Path) -> None:
    (tmp_path / "x").mkdir()
    one = telephone(tmp_path / "a.jpg")
    two = tmp_path / "x" / "another-name.jpg"
    two.write_bytes(one.read_bytes())
    wanted: list[tuple[int, Kind]] = [(w, k) for w in (1440, 320, 100) for k in KINDS]
    first, second = variants(one, wanted), variants(two, wanted)
    assert [(p.name, p.data) for p in first] == [(p.name, p.data) for p in second]
    alone = [published(two, w, k) for w, k in reversed(wanted)]
    assert [p.data for p in reversed(alone)] == [p.data for p in first]
    assert len({p.name for p in first}) == len(wanted)
