"""A figure with more numbers than anybody finds, or with numbers that its margins have no room for."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error, warning
from kilter.model.text import Figure

CODE = "K608"
SEVERITY = Severity.ERROR

ROOM, MOST = 24, 60
"""Items round a picture in the width of a telephone, and items that are drawn at all."""
LARGEST = 999
"""An item number; longer ones have no room in a margin."""
HELP = "split the figure, or enlarge a detail of it into a figure of its own"


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        if len(figure.items) > MOST:
            message = f"the figure has {len(figure.items)} items, the most is {MOST}"
            yield error("too-many-items", message, figure.items[MOST].span, HELP)
        elif len(figure.items) > ROOM:
            message = f"the figure has {len(figure.items)} items, there is good room for {ROOM}"
            yield warning("too-many-items", message, figure.items[ROOM].span, HELP)
        yield from _large(figure)


def _large(figure: Figure) -> Iterator[Diagnostic]:
    for item in figure.items:
        if item.number > LARGEST:
            message = f"the item number has {len(str(item.number))} digits, the most is {len(str(LARGEST))}"
            help = (
                "the number of an item is a place in the figure's list; a part number belongs into its name"
            )
            yield error("too-many-items", message, item.span, help)
