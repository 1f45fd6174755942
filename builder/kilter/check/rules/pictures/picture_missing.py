"""A figure whose picture is not there."""

from collections.abc import Iterator
from pathlib import Path

from kilter.check.lookup import near
from kilter.check.picturefiles import safe_file
from kilter.check.rule import Context
from kilter.compute.pictureinfo import ENDINGS
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K603"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.figures:
        file = safe_file(context, figure)
        if file is not None and not file.is_file():
            folder = file.is_dir()
            message = f"`{figure.path}` is a folder" if folder else f"there is no picture `{figure.path}`"
            yield error("picture-missing", message, figure.path_span, _help(file, figure.path))


def _help(file: Path, written: str) -> str:
    otherwise = "put the picture there; the path begins at the document's folder"
    if not file.parent.is_dir():
        return otherwise
    names = sorted(f.name for f in file.parent.iterdir() if f.is_file() and f.suffix.lower() in ENDINGS)
    folder = written.rpartition("/")[0]
    return near(written, [f"{folder}/{n}" if folder else n for n in names], otherwise)
