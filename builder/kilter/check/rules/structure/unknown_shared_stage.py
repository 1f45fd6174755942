"""A `:do:` that names no shared stage."""

from collections.abc import Iterator

from kilter.check.fixes import name_put, name_spelt
from kilter.check.lookup import fields
from kilter.check.rule import Context
from kilter.check.targets import shared_stages
from kilter.diagnostic import Diagnostic, Fix, Severity, did_you_mean, error
from kilter.model.base import slugify
from kilter.model.document import Field
from kilter.read.cures import end_of, inserted

CODE = "K208"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    if context.profile is None:
        return  # the profile may hold it; that it is missing is said already
    known = shared_stages(context)
    for field in fields(context.document, "do"):
        slug = field.value.removeprefix("#")
        if slug not in known:
            message = f"there is no shared stage `{slug}`"
            help, cure = _help(context, slug, list(known)), _cure(context, field, slug, list(known))
            yield error("unknown-shared-stage", message, field.value_span, help, fixes=cure)


def _cure(context: Context, field: Field, slug: str, known: list[str]) -> tuple[Fix, ...]:
    if (name := slugify(slug)) in known:
        return name_put(context.library, field.value_span, field.value, name)
    stage = next((s for s in context.document.stages if s.slug == slug), None)
    if stage is not None:
        return inserted(f"mark `{stage.title}` as `{{shared}}`", end_of(stage.heading_span), " {shared}")
    return (
        () if slug in context.document.steps else name_spelt(context.library, field.value_span, slug, known)
    )


def _help(context: Context, slug: str, known: list[str]) -> str:
    document = context.document
    if (name := slugify(slug)) in known:
        return f"write `:do: {name}`"
    if any(s.slug == slug for s in document.stages):
        return "mark the stage: write `{shared}` after its heading"
    if slug in document.steps:
        return "it is a step: `:go-to:` leads to a step, `:do:` does a shared stage"
    return did_you_mean(slug, known)
