"""A document without an H1."""

import re
from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Fix, Severity, warning
from kilter.read.cures import end_of, inserted, line_start

CODE = "K201"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    bare = document.is_profile and not document.blocks and not document.stages
    if document.title is None and not bare:
        help = f"write `# {document.front.title}` under the front matter"
        cure = _title(context) if document.title_span.path in context.library.sources else ()
        yield warning("missing-title", "the document has no title", document.title_span, help, fixes=cure)


def _title(context: Context) -> tuple[Fix, ...]:
    """The title of the front matter, with a backslash before each sign that means something in Markdown."""
    document = context.document
    source, span = context.library.sources[document.path], document.title_span
    heading = "# " + re.sub(r"([\\`*_{}\[\]<>#])", r"\\\1", document.front.title)
    row = source.row(span.line - 1)
    if row.startswith(("---", "...")) and span.line == len(source.lines):
        return inserted(f"write `{heading}`", end_of(span), f"\n{heading}\n", alone=True)
    return inserted(
        f"write `{heading}`", line_start(span), heading + ("\n\n" if row.strip() else "\n"), alone=True
    )
