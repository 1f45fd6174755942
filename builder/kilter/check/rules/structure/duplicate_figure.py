"""Two figures of one id."""

from collections.abc import Iterator
from itertools import count

from kilter.check.fixes import name_put
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.text import Figure

CODE = "K227"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    first: dict[str, Figure] = {}
    ids = {f.id for f in context.document.figures}
    for figure in context.document.figures:
        if figure.id is None:
            continue
        span = figure.id_span or figure.path_span
        if figure.id != "-".join(figure.id.split()):
            help = f"write `:id: {'-'.join(figure.id.split())}`"
            cure = name_put(context.library, span, figure.id, "-".join(figure.id.split()))
            yield error("duplicate-figure", f"figure id `{figure.id}` holds a blank", span, help, fixes=cure)
        elif figure.id in first:
            help = "give one of them another id, and look at the items that name it"
            related = (Label(first[figure.id].path_span, "the other figure"),)
            message = f"two figures have the id `{figure.id}`"
            free = next(i for n in count(2) if (i := f"{figure.id}-{n}") not in ids)
            cure = name_put(context.library, span, figure.id, free)
            yield error("duplicate-figure", message, span, help, related=related, fixes=cure)
        first.setdefault(figure.id, figure)
