"""A figure with more numbers than anybody finds."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error

CODE = "K608"
SEVERITY = Severity.ERROR

MOST = 24
"""Items a picture has room for in the width of a telephone."""


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.figures:
        if len(figure.items) > MOST:
            message = f"the figure has {len(figure.items)} items, the most is {MOST}"
            help = "split the figure, or enlarge a detail of it into a figure of its own"
            yield error("too-many-items", message, figure.items[MOST].span, help)
