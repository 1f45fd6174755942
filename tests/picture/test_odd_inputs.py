"""Every odd file either works or says what to do."""

from __future__ import annotations

import io
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin
from tests.picture.frame import near, pixels, saved, scene

from kilter.compute.pictureinfo import inspect
from kilter.picture.encode import published


def _moving(kind: str) -> bytes:
    frames = [Image.new("RGB", (60, 40), c) for c in ("red", "blue", "green")]
    return saved(frames[0], kind, save_all=True, append_images=frames[1:], duration=90)


def _bomb() -> bytes:
    """A PNG of a few kB that claims and holds 120 million pixels of one bit."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    row = bytes(1 + 12000 // 8)
    body = zlib.compress(row * 10000, 9)
    head = struct.pack(">IIBBBBB", 12000, 10000, 1, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _text_bomb() -> bytes:
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", "a" * 80_000_000, zip=True)
    return saved(scene(60, 40), "PNG", pnginfo=info)


REFUSED = {
    "empty": (b"", "empty", "copy it again"),
    "words": (b"These are words.\n" * 30, "words", "PNG, JPEG or WebP"),
    "cut jpeg": (saved(scene(), "JPEG")[:-200], "cut short", "copy it again"),
    "cut png": (saved(scene(), "PNG")[:-200], "cut short", "copy it again"),
    "cut webp": (saved(scene(), "WEBP")[:-200], "cut short", "copy it again"),
    "moving png": (_moving("PNG"), "moves", "one frame"),
    "moving webp": (_moving("WEBP"), "moves", "one frame"),
    "gif": (_moving("GIF"), "GIF", "PNG, JPEG or WebP"),
    "heic": (b"\x00\x00\x00\x18ftypheic" + bytes(90), "HEIC", "set the telephone's camera to JPEG"),
    "avif": (b"\x00\x00\x00\x18ftypavif" + bytes(90), "AVIF", "PNG, JPEG or WebP"),
    "postscript": (b"%!PS-Adobe-3.0 EPSF-3.0\nshowpage\n", "PostScript", "PNG, JPEG or WebP"),
    "bomb": (_bomb(), "64 million", "smaller"),
    "text bomb": (_text_bomb(), "damaged", "copy it again"),
    "ribbon": (saved(Image.new("L", (9000, 3)), "PNG"), "longer than it is wide", "cut out"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_can_not_be_shown_is_refused_with_a_way_out(name: str, tmp_path: Path) -> None:
    data, words, help = REFUSED[name]
    info = inspect(data)
    assert words in info.problem and help in info.help, (info.problem, info.help)
    file = tmp_path / "a.jpg"
    file.write_bytes(data)
    with pytest.raises(ValueError, match=words):
        published(file, 360)


def test_the_bombs_are_small() -> None:
    assert len(REFUSED["bomb"][0]) < 40_000 and len(REFUSED["text bomb"][0]) < 200_000


def _grey_16(value: int) -> bytes:
    picture = Image.new("I;16", (60, 40))
    picture.paste(value, (0, 0, 60, 40))
    return saved(picture, "PNG")


def _palette() -> bytes:
    picture = Image.new("P", (60, 40))
    picture.putpalette([255, 0, 0] + [0, 0, 255] * 255)
    return saved(picture, "PNG", transparency=0)


def _huge_exif() -> bytes:
    exif = Image.Exif()
    exif[0x010E] = "x" * 60_000
    return saved(Image.new("RGB", (60, 40), (9, 90, 200)), "JPEG", exif=exif, quality=95)


def _broken_exif() -> bytes:
    whole = saved(Image.new("RGB", (60, 40), (9, 90, 200)), "JPEG", quality=95)
    body = b"Exif\x00\x00MM\x00*\xff\xff\xff\xff" + bytes(range(200))
    return whole[:2] + b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body + whole[2:]


def _mpo() -> bytes:
    pictures = [Image.new("RGB", (60, 40), c) for c in ((9, 90, 200), (200, 0, 0))]
    return saved(pictures[0], "MPO", save_all=True, append_images=pictures[1:], quality=95)


ACCEPTED = {
    "cmyk": (saved(Image.new("CMYK", (60, 40), (0, 255, 255, 0)), "JPEG", quality=95), (255, 0, 0)),
    "16 bits": (_grey_16(0x8080), (128, 128, 128)),
    "16 bits, dark": (_grey_16(0x0100), (1, 1, 1)),
    "palette with a hidden red": (_palette(), (255, 255, 255)),
    "grey and alpha": (saved(Image.new("LA", (60, 40), (0, 0)), "PNG"), (255, 255, 255)),
    "half clear": (saved(Image.new("RGBA", (60, 40), (0, 0, 0, 128)), "PNG"), (127, 127, 127)),
    "one bit": (saved(Image.new("1", (60, 40), 1), "PNG"), (255, 255, 255)),
    "grey jpeg": (saved(Image.new("L", (60, 40), 77), "JPEG", quality=95), (77, 77, 77)),
    "clear webp": (
        saved(Image.new("RGBA", (60, 40), (0, 200, 0, 0)), "WEBP", lossless=True),
        (255, 255, 255),
    ),
    "huge exif": (_huge_exif(), (9, 90, 200)),
    "broken exif": (_broken_exif(), (9, 90, 200)),
    "two pictures in one": (_mpo(), (9, 90, 200)),
    "progressive": (saved(Image.new("RGB", (60, 40), (9, 90, 200)), "JPEG", progressive=True), (9, 90, 200)),
}


@pytest.mark.parametrize("name", ACCEPTED)
def test_what_can_be_shown_has_its_right_colours(name: str, tmp_path: Path) -> None:
    data, colour = ACCEPTED[name]
    file = tmp_path / "a.bin"
    file.write_bytes(data)
    assert inspect(data).problem == ""
    made = published(file, 30, "png")
    assert (made.width, made.height) == (30, 20)
    assert near(pixels(made.data), (15, 10), colour, 4)


def test_a_photograph_is_told_from_a_drawing() -> None:
    drawing = Image.new("RGB", (400, 300), "white")
    drawing.paste("black", (50, 50, 200, 60))
    assert not inspect(saved(drawing, "PNG")).photograph
    assert inspect(saved(drawing, "JPEG")).photograph and inspect(saved(drawing, "WEBP")).photograph
    assert inspect(saved(scene(), "PNG")).photograph


def test_a_small_picture_is_not_enlarged(tmp_path: Path) -> None:
    file = tmp_path / "a.png"
    file.write_bytes(saved(scene(60, 40), "PNG"))
    assert published(file, 1440) == published(file, 720)
    assert published(file, 1440).width == 60


def test_a_file_that_changed_meanwhile_is_read_again(tmp_path: Path) -> None:
    file = tmp_path / "a.png"
    file.write_bytes(saved(Image.new("RGB", (60, 40), "red"), "PNG"))
    first = published(file, 60, "png")
    file.write_bytes(saved(Image.new("RGB", (62, 40), "blue"), "PNG"))
    second = published(file, 60, "png")
    assert first.name != second.name
    assert near(pixels(second.data), (9, 9), (0, 0, 255), 2)
    assert io.BytesIO(second.data).read(4) == b"\x89PNG"
