"""An H1 that says something else than the front matter."""

import re
from collections.abc import Iterator

from kilter.check.fixes import name_put
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Label, Severity, error
from kilter.model.base import fold

CODE = "K202"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if document.title is None or fold(document.title) == fold(document.front.title):
        return
    yield error(
        "title-differs",
        f"the title is `{document.title}` here, but `{document.front.title}` in the front matter",
        document.title_span,
        "make both say the same",
        related=(Label(document.places.of("title"), "the title in the front matter"),),
        fixes=_either(context, document.title, document.front.title),
    )


def _either(context: Context, here: str, front: str) -> tuple[Fix, ...]:
    """One of the two in both places; which is right only the writer knows."""
    document = context.document
    if re.search(r"[\\`*_{}\[\]<>#:\"']", here + front):
        return ()
    return (
        *name_put(context.library, document.title_span, here, front),
        *name_put(context.library, document.places.of("title"), front, here),
    )
