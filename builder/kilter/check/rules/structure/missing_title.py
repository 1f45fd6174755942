"""A document without an H1."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K201"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    bare = document.is_profile and not document.blocks and not document.stages
    if document.title is None and not bare:
        help = f"write `# {document.front.title}` under the front matter"
        yield warning("missing-title", "the document has no title", document.title_span, help)
