"""A screw or a friction named where nothing is tightened."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity, warning
from kilter.model.document import Field, Step
from kilter.read.cures import replaced, without_rows

CODE = "K326"
SEVERITY = Severity.WARNING

_NAMES = ("fastener", "friction")


def check(context: Context) -> Iterator[Diagnostic]:
    for stage in context.document.stages:
        for name in _NAMES:
            if (field := stage.field(name)) is not None:
                steps = [s for s in stage.steps if s.field(name) is None and _tightens(s)]
                fastened = name == "fastener" or any(
                    stage.field("fastener") or s.field("fastener") for s in steps
                )
                yield from _told(context, field, bool(steps), fastened, "stage")
        for step in stage.steps:
            for name in _NAMES:
                if (field := step.field(name)) is not None:
                    fastened = name == "fastener" or bool(step.field("fastener") or stage.field("fastener"))
                    yield from _told(context, field, _tightens(step), fastened, "step")


def _tightens(step: Step) -> bool:
    return any(role.name == "torque" for role in step.roles)


def _told(context: Context, field: Field, used: bool, fastened: bool, where: str) -> Iterator[Diagnostic]:
    if used and fastened:
        return
    if used:
        message = f"`:friction: {field.value[:40]}` without a fastener"
        help = "name the screw: `:fastener: M8 8.8`; or delete the field"
    else:
        message = f"`:{field.name}: {field.value[:40]}` in a {where} without a torque"
        help = "mark the torque: {torque}`22 ± 2 N·m`; or delete the field"
    source = context.library.sources.get(field.span.path)
    cure = replaced(f"delete `:{field.name}:`", without_rows(source, field.span), "") if source else ()
    yield warning("fastener-unused", message, field.span, help, fixes=cure)
