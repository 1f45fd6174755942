"""A figure whose picture is not there."""

from collections.abc import Iterator
from pathlib import Path

from kilter.check.lookup import near
from kilter.check.picturefiles import safe_file
from kilter.check.rule import Context
from kilter.compute.pictureinfo import ENDINGS
from kilter.diagnostic import Diagnostic, Fix, Severity, error
from kilter.model.text import Figure
from kilter.read.cures import put, spelt

CODE = "K603"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        file = safe_file(context, figure)
        if file is not None and not file.is_file():
            folder = file.is_dir()
            message = f"`{figure.path}` is a folder" if folder else f"there is no picture `{figure.path}`"
            help, cure = _help(file, figure.path), _cure(context, file, figure)
            yield error("picture-missing", message, figure.path_span, help, fixes=cure)


def _help(file: Path, written: str) -> str:
    otherwise = "put the picture there; the path begins at the document's folder"
    return near(written, _there(file, written), otherwise)


def _cure(context: Context, file: Path, figure: Figure) -> tuple[Fix, ...]:
    """Alone only where nothing but the case differs: fig-1 and fig-2 are two pictures, however alike."""
    there, source = _there(file, figure.path), context.library.sources.get(figure.path_span.path)
    same = [n for n in there if n.casefold() == figure.path.casefold()]
    if len(same) == 1:
        return put(source, figure.path_span, figure.path, same[0], alone=True)
    return spelt(source, figure.path_span, figure.path, there)


def _there(file: Path, written: str) -> list[str]:
    """The pictures of the folder that a path names, written as it is."""
    if not file.parent.is_dir():
        return []
    names = sorted(f.name for f in file.parent.iterdir() if f.is_file() and f.suffix.lower() in ENDINGS)
    folder = written.rpartition("/")[0]
    return [f"{folder}/{n}" if folder else n for n in names]
