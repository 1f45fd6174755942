"""A figure whose path leads out of the library."""

from collections.abc import Iterator

from kilter.check.picturefiles import path_trouble
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K602"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        trouble = path_trouble(context, figure) if figure.path else None
        if trouble is not None:
            yield error("picture-path", trouble[0], figure.path_span, trouble[1])
