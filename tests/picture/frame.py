"""Photographs to try: with everything that a telephone writes into one, turned, and in odd kinds of pixels."""

from __future__ import annotations

import io
import json
import subprocess
from functools import cache
from pathlib import Path

from PIL import Image, ImageCms

SECRET = "WARD-SEVEN-SECRET"
ORIENTATION = 0x0112
PLANTED = (
    "-GPSLatitude=51.5",
    "-GPSLatitudeRef=N",
    "-GPSLongitude=0.12",
    "-GPSLongitudeRef=W",
    f"-Artist={SECRET}",
    f"-UserComment={SECRET}",
    f"-XMP:Title={SECRET}",
    f"-IPTC:Keywords={SECRET}",
    f"-Comment={SECRET}",
    "-DateTimeOriginal=2026:05:04 10:00:00",
)
BARE = {"ExifTool", "System", "File", "JFIF", "Composite", "RIFF", "PNG", "SVG"}
"""Groups of exiftool that a file has by being a file; what may stand in them is listed in `HARMLESS`."""
HARMLESS = {
    "RIFF": {"VP8Version", "ImageWidth", "ImageHeight", "HorizontalScale", "VerticalScale"},
    "PNG": {"ImageWidth", "ImageHeight", "BitDepth", "ColorType", "Compression", "Filter", "Interlace"},
    "JFIF": {"JFIFVersion", "ResolutionUnit", "XResolution", "YResolution"},
    "SVG": {"SVGVersion", "ImageWidth", "ImageHeight", "ViewBox", "Xmlns"},
}


@cache
def scene(width: int = 640, height: int = 480) -> Image.Image:
    """Many colours and a different mark in each corner, so that turns and cuts are seen."""
    noise = Image.effect_noise((width, height), 30)
    base = Image.merge("RGB", (noise, Image.linear_gradient("L").resize((width, height)), noise))
    for colour, place in {
        "red": (0, 0),
        "blue": (width - 60, 0),
        "lime": (0, height - 60),
        "white": (width - 60, height - 60),
    }.items():
        base.paste(Image.new("RGB", (60, 60), colour), place)
    return base


def saved(picture: Image.Image, kind: str, **options: object) -> bytes:
    stream = io.BytesIO()
    picture.save(stream, kind, **options)
    return stream.getvalue()


def telephone(file: Path, turned: int = 6) -> Path:
    """A photograph with GPS, names, comments, a thumbnail and a wide colour profile, taken sideways."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    exif = Image.Exif()
    exif[ORIENTATION] = turned
    scene().save(file, "JPEG", quality=92, exif=exif, icc_profile=profile)
    thumbnail = file.with_name("thumbnail.jpg")
    scene().resize((160, 120)).save(thumbnail, "JPEG")
    done = subprocess.run(
        ["exiftool", "-q", "-overwrite_original", *PLANTED, f"-ThumbnailImage<={thumbnail}", str(file)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    thumbnail.unlink()
    return file


def orientations(files: list[Path]) -> list[str]:
    """How exiftool says that each picture is to be turned, such as `Rotate 90 CW`; empty where it finds no tag."""
    command = ["exiftool", "-j", "-Orientation", *map(str, files)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return [entry.get("Orientation", "") for entry in json.loads(done.stdout)]


def told(file: Path) -> dict[str, set[str]]:
    """What exiftool reads in a file: names of tags by group."""
    done = subprocess.run(
        ["exiftool", "-a", "-G1", "-s", "-u", str(file)], capture_output=True, text=True, check=True
    )
    found: dict[str, set[str]] = {}
    for row in done.stdout.splitlines():
        group, _, rest = row.removeprefix("[").partition("]")
        found.setdefault(group.strip(), set()).add(rest.split(":")[0].strip())
    return found


def too_much(file: Path) -> dict[str, set[str]]:
    """What exiftool finds beyond what a file of pixels alone has."""
    found = {g: names - HARMLESS.get(g, names) for g, names in told(file).items() if g in BARE}
    foreign = {g: names for g, names in told(file).items() if g not in BARE}
    comments = told(file).get("File", set()) & {"Comment"}
    return {g: n for g, n in (found | foreign | {"Comment": comments}).items() if n}


def pixels(data: bytes) -> Image.Image:
    with Image.open(io.BytesIO(data)) as opened:
        return opened.convert("RGB")


def near(picture: Image.Image, at: tuple[int, int], colour: tuple[int, int, int], by: int = 40) -> bool:
    """Whether the picture has about this colour there."""
    seen = picture.getpixel(at)
    assert isinstance(seen, tuple)
    return all(abs(a - b) <= by for a, b in zip(seen, colour, strict=True))
