"""Words behind the name of a switch that say nothing known about how its travel is counted."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.lookup import fields
from kilter.check.rule import Context
from kilter.check.switched import FROM_CLICK
from kilter.diagnostic import Diagnostic, Severity, error
from kilter.read.blanks import BLANK_MARK
from kilter.read.cures import spelt
from kilter.read.fields import names_of

CODE = "K330"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    for field in fields(context.document, "switch"):
        for name in names_of(field)[1:] if BLANK_MARK not in field.value else ():
            if " ".join(name.key.split()) != FROM_CLICK:
                message = f"`{name.text[:40]}` says nothing known about how the travel is counted"
                help = f"write `{FROM_CLICK}`, or nothing where the setting is a position"
                source = context.library.sources.get(field.span.path)
                cure = spelt(source, name.span, name.text, [FROM_CLICK])
                yield error("switch-counted", message, name.span, help, fixes=cure)
