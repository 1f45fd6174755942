"""A picture's facts are those of what is seen, and bad bytes are told, not raised."""

from __future__ import annotations

import io
import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from kilter.compute.pictureinfo import inspect, picture_info

PLAIN = Image.radial_gradient("L").resize((60, 40))
ORIENTATION = 0x0112


def _saved(kind: str, **options: object) -> bytes:
    stream = io.BytesIO()
    PLAIN.convert("RGB").save(stream, kind, **options)
    return stream.getvalue()


def _half(kind: str) -> bytes:
    whole = _saved(kind)
    return whole[: len(whole) // 2]


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP"])
def test_the_three_kinds_are_read(kind: str) -> None:
    info = inspect(_saved(kind))
    assert (info.width, info.height, info.format, info.problem) == (60, 40, kind, "")
    assert len(info.sha256) == 64


@pytest.mark.parametrize(("turned", "size"), [(1, (60, 40)), (3, (60, 40)), (6, (40, 60)), (8, (40, 60))])
def test_a_picture_is_measured_as_it_is_seen(turned: int, size: tuple[int, int]) -> None:
    """EXIF 2.32, tag 0x0112: 5 to 8 exchange rows and columns."""
    exif = Image.Exif()
    exif[ORIENTATION] = turned
    info = inspect(_saved("JPEG", exif=exif))
    assert (info.width, info.height) == size


def test_a_photograph_with_a_second_picture_inside_is_no_moving_one() -> None:
    stream = io.BytesIO()
    PLAIN.convert("RGB").save(stream, "MPO", save_all=True, append_images=[PLAIN.convert("RGB")])
    info = inspect(stream.getvalue())
    assert (info.format, info.problem) == ("JPEG", "")


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "no picture"),
        (b"words", "no picture"),
        (b"\x00\x00\x00\x18ftypheic" + bytes(40), "HEIC"),
        (b"<svg xmlns='x'/>", "SVG"),
        (b"%PDF-1.7", "PDF"),
        (_saved("GIF"), "GIF"),
        (_saved("TIFF"), "TIFF"),
        (_half("PNG"), "cut short"),
        (_half("JPEG"), "cut short"),
        (_half("WEBP"), ""),
    ],
)
def test_what_is_no_sound_picture_is_told(data: bytes, words: str) -> None:
    info = inspect(data)
    assert info.problem
    assert words in info.problem
    assert info.help


def test_a_changed_file_is_looked_at_again(tmp_path: Path) -> None:
    file = tmp_path / "a.png"
    file.write_bytes(_saved("PNG"))
    first = picture_info(file)
    file.write_bytes(b"words")
    os.utime(file, ns=(1, 1))
    assert not first.problem
    assert picture_info(file).problem


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    assert "can't be read" in picture_info(tmp_path / "gone.png").problem


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(["PNG", "JPEG", "WEBP"]), st.integers(0, 5000), st.binary(min_size=1, max_size=8))
def test_no_damage_makes_it_fall_over(kind: str, at: int, damage: bytes) -> None:
    data = _saved(kind)
    at %= len(data)
    info = inspect(data[:at] + damage + data[at + len(damage) :])
    assert info.problem or (info.width > 0 and info.height > 0)
