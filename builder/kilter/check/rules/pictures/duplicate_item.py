"""Two items of a figure with one number or one name."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error, warning
from kilter.model.base import fold
from kilter.model.text import Figure, Item
from kilter.read.cures import put

CODE = "K607"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.pictures:
        yield from _items(context, figure)


def _items(context: Context, figure: Figure) -> Iterator[Diagnostic]:
    numbers: dict[int, Item] = {}
    labels: dict[str, Item] = {}
    for item in figure.items:
        if (other := numbers.get(item.number)) is not None:
            message = f"two items of the figure have the number {item.number}"
            related = (Label(other.span, "the other item"),)
            free = max(i.number for i in figure.items) + 1
            cure = put(
                context.library.sources.get(item.span.path), item.span, f":{item.number}:", f":{free}:"
            )
            help = "give one of them another number"
            yield error("duplicate-item", message, item.span, help, related=related, fixes=cure)
        elif (other := labels.get(fold(item.label))) is not None:
            message = f"items {other.number} and {item.number} have the same name"
            help = "say which is which, for instance left and right"
            related = (Label(other.span, "the other item"),)
            yield warning("duplicate-item", message, item.span, help, related=related)
        numbers.setdefault(item.number, item)
        labels.setdefault(fold(item.label), item)
