"""Two figures of one id."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.text import Figure

CODE = "K227"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    first: dict[str, Figure] = {}
    for figure in context.document.figures:
        if figure.id is None:
            continue
        span = figure.id_span or figure.path_span
        if figure.id != "-".join(figure.id.split()):
            help = f"write `:id: {'-'.join(figure.id.split())}`"
            yield error("duplicate-figure", f"figure id `{figure.id}` holds a blank", span, help)
        elif figure.id in first:
            help = "give one of them another id, and look at the items that name it"
            related = (Label(first[figure.id].path_span, "the other figure"),)
            yield error(
                "duplicate-figure", f"two figures have the id `{figure.id}`", span, help, related=related
            )
        first.setdefault(figure.id, figure)
