"""A step that names a switch but sets nothing."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.read.cures import replaced, without_rows

CODE = "K312"
SEVERITY = Severity.WARNING


def check(context: Context) -> Iterator[Diagnostic]:
    for _, step in context.document.all_steps():
        field = step.field("switch")
        if field is not None and all(r.name != "set" for r in step.roles):
            message = f"`:switch: {field.value}` in a step without a setting"
            help = "mark the value that is set: {set}`7.9 ± 0.1 mm`; or delete the field"
            source = context.library.sources.get(field.span.path)
            cure = replaced("delete `:switch:`", without_rows(source, field.span), "") if source else ()
            yield warning("switch-without-setting", message, field.span, help, fixes=cure)
