"""An H1 that says something else than the front matter."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error
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
    )
