"""A picture of a kind that is not read."""

from collections.abc import Iterator
from pathlib import PurePosixPath

from kilter.check.picturefiles import path_trouble
from kilter.check.rule import Context
from kilter.compute.pictureinfo import ENDINGS
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K604"
SEVERITY = Severity.ERROR

LATER = {
    ".heic": "set the telephone's camera to JPEG (often called most compatible), or save it as JPEG there",
    ".heif": "set the telephone's camera to JPEG (often called most compatible), or save it as JPEG there",
    ".avif": "save it as WebP or PNG",
    ".gif": "save it as PNG",
}
"""Kinds that are not read, and what to do instead."""


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        if not figure.path or path_trouble(context, figure) is not None:
            continue
        ending = PurePosixPath(figure.path).suffix.lower()
        if ending in LATER:
            yield error("picture-kind", f"`{ending}` pictures are not read", figure.path_span, LATER[ending])
        elif ending not in ENDINGS:
            help = "possible: " + ", ".join(f"`{e}`" for e in ENDINGS)
            message = f"`{figure.path}` does not end like a picture"
            yield error("picture-kind", message, figure.path_span, help)
