"""Where the picture of a figure stands on the disk, and whether it may stand there."""

from __future__ import annotations

import os
import re
from pathlib import Path, PurePosixPath

from kilter.check.rule import Context
from kilter.compute.pictureinfo import ENDINGS, PictureInfo, picture_info
from kilter.model.text import Figure

LONGEST = 200
"""Characters; longer names break on some disks."""
_SCHEME = re.compile(r"^[A-Za-z][A-Za-z0-9+.-]*:")


def path_trouble(context: Context, figure: Figure) -> tuple[str, str] | None:
    """What is wrong with the path as it is written, and how to mend it; the disk is looked at last."""
    written, root = figure.path, context.library.root.resolve()
    if _SCHEME.match(written) and not written.startswith("\\"):
        return (
            f"`{written}` is an address or a drive, not a file of the library",
            "copy it beside the document",
        )
    if "\\" in written:
        return f"`{written}` holds a backslash", f"write `{written.replace(chr(92), '/')}`"
    if written.startswith(("/", "~")):
        return f"`{written}` does not begin at the document", "write the way from the document's folder"
    file = _file(context, figure)
    if len(written) > LONGEST:
        return f"a path of {len(written)} characters", "give the folders and the picture shorter names"
    if not Path(os.path.normpath(file)).is_relative_to(root):
        return f"`{written}` leads out of the library", "copy the picture into the library"
    if not file.resolve().is_relative_to(root):
        return f"`{written}` is a pointer to a file outside the library", "copy the picture itself there"
    return None


def _file(context: Context, figure: Figure) -> Path:
    folder = context.library.file_of(context.document.path).resolve().parent
    return folder / PurePosixPath(figure.path)


def safe_file(context: Context, figure: Figure) -> Path | None:
    """The picture's file if its path may be followed; it need not exist."""
    if not figure.path or path_trouble(context, figure) is not None:
        return None
    return _file(context, figure)


def sound_picture(context: Context, figure: Figure) -> PictureInfo | None:
    """The facts of a picture that exists and is sound, else None: other rules tell why."""
    file = safe_file(context, figure)
    if file is None or not file.is_file() or file.suffix.lower() not in ENDINGS:
        return None
    info = picture_info(file)
    return None if info.problem else info
