"""A shared stage that nothing does."""

from collections.abc import Iterator

from kilter.check.lookup import fields
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning

CODE = "K216"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if document.is_profile:
        return  # other documents do its stages
    done = {f.value.removeprefix("#") for f in fields(document, "do")}
    for slug, stage in document.shared_stages.items():
        if slug not in done:
            help = f"write `:do: {slug}` on the step that needs it, or delete the stage"
            message = f"nothing does the shared stage `{slug}`"
            yield warning("unused-shared-stage", message, stage.heading_span, help)
