"""A picture that says nothing to those who do not see it."""

import re
from collections.abc import Iterator
from pathlib import PurePosixPath

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, warning
from kilter.model.base import fold
from kilter.model.text import Figure
from kilter.read.cures import end_of, inserted
from kilter.source import Span

CODE = "K601"
SEVERITY = Severity.ERROR

LEAST_WORDS = 3


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        if figure.alt is None:
            help = "write under the first line what the picture shows: `:alt: Rail latch seen from below.`"
            message, asked = (
                "a figure without a text for those who do not see it",
                "[fill in: what the picture shows]",
            )
            cure = inserted("leave a blank for it", end_of(_head(figure)), f"\n:alt: {asked}")
            yield error("alt-text", message, _head(figure), help, fixes=cure)
        elif _is_file_name(figure.alt, figure.path):
            help = "say what the picture shows"
            yield warning(
                "alt-text", f"`:alt:` only repeats the file's name, `{figure.alt}`", _head(figure), help
            )
        elif len(figure.alt.split()) < LEAST_WORDS:
            help = f"say in {LEAST_WORDS} words or more what the picture shows"
            yield warning("alt-text", f"`:alt: {figure.alt}` says too little", _head(figure), help)


def _head(figure: Figure) -> Span:
    return figure.path_span


def _is_file_name(alt: str, path: str) -> bool:
    name = PurePosixPath(path)
    plain = re.sub(r"[\W_]+", " ", fold(alt)).strip()
    return plain in {re.sub(r"[\W_]+", " ", fold(n)).strip() for n in (path, name.name, name.stem)}
