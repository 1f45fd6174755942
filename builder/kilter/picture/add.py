"""A picture taken into a library: the file that is written has pixels alone, and a plain name of its own.

The original never enters the library, so neither its place, its camera nor what was painted over can be found in
the library's history.
"""

from __future__ import annotations

import hashlib
import io
import os
import re
from dataclasses import dataclass
from pathlib import Path

from kilter.compute.pictureinfo import MOST_BYTES, PictureInfo, inspect
from kilter.compute.pictureplan import Box, Plan, Size
from kilter.compute.svg import clean
from kilter.outcome import CouldNotRunError
from kilter.picture.compose import composed, cover
from kilter.picture.decode import decoded

LONGEST = 4096
"""Pixels of the longer side that are kept: three times what is ever shown, so that a part can be cut out."""
_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
LONGEST_NAME = 60


@dataclass(frozen=True)
class Taken:
    """A picture fit for a library."""

    ending: str
    data: bytes
    width: int
    height: int
    photograph: bool

    @property
    def own_name(self) -> str:
        """From its content: a camera's or a person's name for it can tell a ward or a patient."""
        return f"picture-{hashlib.sha256(self.data).hexdigest()[:8]}"


def take(photo: Path, plan: Plan) -> Taken:
    """The clean form of a picture file. Raises CouldNotRunError, which says how to mend it."""
    try:
        if photo.stat().st_size > MOST_BYTES:
            raise CouldNotRunError(f"{photo}: has more than {MOST_BYTES:,} bytes; save it smaller")
        data = photo.read_bytes()
    except OSError as trouble:
        raise CouldNotRunError(f"{photo}: can't be read: {trouble.strerror or trouble}") from None
    info = inspect(data)
    if info.problem:
        raise CouldNotRunError(f"{photo}: {info.problem}; {info.help}")
    if info.format == "SVG":
        return _drawing(photo, data, info, plan)
    _refuse_outside(photo, info, plan)
    return _pixels(data, info, plan)


def _drawing(photo: Path, data: bytes, info: PictureInfo, plan: Plan) -> Taken:
    if plan.key:
        raise CouldNotRunError(
            f"{photo}: an SVG drawing can't be cropped or covered; change the drawing itself"
        )
    return Taken("svg", clean(data).text.encode(), info.width, info.height, False)


def _refuse_outside(photo: Path, info: PictureInfo, plan: Plan) -> None:
    whole = Box(0, 0, info.width, info.height)
    for box in (*filter(None, [plan.crop]), *plan.covers):
        if not box.within(whole):
            shown = ",".join(f"{n:g}" for n in box)
            raise CouldNotRunError(
                f"{photo}: the area {shown} reaches outside the picture, which is {info.width} wide and "
                f"{info.height} high, seen upright"
            )


def _pixels(data: bytes, info: PictureInfo, plan: Plan) -> Taken:
    seen = plan.seen(Size(info.width, info.height))
    share = min(1.0, LONGEST / max(seen.width, seen.height))
    pixels = decoded(data, share)
    cover(pixels, plan)
    wide = round(seen.width * share)
    made = composed(pixels, plan, wide)
    stream = io.BytesIO()
    if info.photograph:
        made.save(stream, "JPEG", quality=92, subsampling=0, optimize=True)
    else:
        made.save(stream, "PNG", optimize=True)
    ending = "jpg" if info.photograph else "png"
    return Taken(ending, stream.getvalue(), made.width, made.height, info.photograph)


def name_of(asked: str | None, taken: Taken) -> str:
    """The name without ending; raises CouldNotRunError for one that is not plain."""
    if asked is None:
        return taken.own_name
    if len(asked) > LONGEST_NAME or not _NAME.fullmatch(asked):
        raise CouldNotRunError(
            f"--as {asked}: not a plain name; write small letters a-z, digits and single hyphens, "
            f"{LONGEST_NAME} at most, such as rail-latch"
        )
    return asked


def put(folder: Path, name: str, taken: Taken) -> tuple[Path, bool]:
    """Write the file, whole or not at all, never over another; False if the same one is there already."""
    file = folder / f"{name}.{taken.ending}"
    folder.mkdir(parents=True, exist_ok=True)
    if file.is_file() and file.read_bytes() == taken.data:
        return file, False
    aside = folder / f".{name}-{os.getpid()}"
    try:
        aside.write_bytes(taken.data)
        _move_to_new(aside, file)
    except FileExistsError:
        raise CouldNotRunError(
            f"{file}: is there already and is another picture; choose another name with --as"
        ) from None
    finally:
        aside.unlink(missing_ok=True)
    return file, True


def _move_to_new(aside: Path, file: Path) -> None:
    """Raises FileExistsError rather than take another's place; some disks know no second name for a file."""
    try:
        os.link(aside, file)
    except FileExistsError:
        raise
    except OSError:
        with file.open("xb") as stream:
            stream.write(aside.read_bytes())
