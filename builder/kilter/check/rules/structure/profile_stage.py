"""A stage of a profile that is not shared."""

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.read.cures import end_of, inserted

CODE = "K215"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    if not context.document.is_profile:
        return
    for stage in context.document.stages:
        if not stage.shared:
            help = "write `{shared}` after its heading, or move it into a procedure"
            message = f"stage `{stage.title}` of a profile is not shared"
            cure = inserted("mark it `{shared}`", end_of(stage.heading_span), " {shared}")
            yield error("profile-stage", message, stage.heading_span, help, fixes=cure)
