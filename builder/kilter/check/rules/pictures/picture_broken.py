"""A file that is no picture, a damaged one, or one that can't be shown."""

from collections.abc import Iterator

from kilter.check.picturefiles import safe_file
from kilter.check.rule import Context
from kilter.compute.pictureinfo import ENDINGS, picture_info
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K605"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        file = safe_file(context, figure)
        if file is None or not file.is_file() or file.suffix.lower() not in ENDINGS:
            continue
        info = picture_info(file)
        if info.problem:
            message = f"`{figure.path}` {info.problem}"
            yield error("picture-broken", message, figure.path_span, info.help)
