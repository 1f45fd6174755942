"""A pair of pictures that shows the same thing twice, or gives one number two names."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.compute.pictureplan import plan_of
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.base import fold
from kilter.model.text import Figure

CODE = "K613"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for figure in context.document.figures:
        if figure.after is not None:
            yield from _same(figure, figure.after)
            yield from _names(figure, figure.after)


def _same(before: Figure, after: Figure) -> Iterator[Diagnostic]:
    if before.path == after.path and plan_of(before) == plan_of(after):
        message = f"before and after are the same picture, `{after.path}`"
        help = "name the picture taken after the work; for one picture leave `:after:` out"
        yield error("figure-pair", message, after.path_span, help)


def _names(before: Figure, after: Figure) -> Iterator[Diagnostic]:
    known = {i.number: i for i in before.items}
    for item in after.items:
        other = known.get(item.number)
        if other is not None and fold(other.label) != fold(item.label):
            message = f"item {item.number} is `{other.label}` before and `{item.label}` after"
            help = "the same part keeps its number and its name in both pictures; give another part another number"
            related = (Label(other.span, "before"),)
            yield error("figure-pair", message, item.span, help, related=related)
