"""A `:do:` that names no shared stage."""

from collections.abc import Iterator

from kilter.check.lookup import fields
from kilter.check.rule import Context
from kilter.check.targets import shared_stages
from kilter.diagnostic import Diagnostic, Severity, did_you_mean, error
from kilter.model.base import slugify

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
            yield error("unknown-shared-stage", message, field.value_span, _help(context, slug, list(known)))


def _help(context: Context, slug: str, known: list[str]) -> str:
    document = context.document
    if (name := slugify(slug)) in known:
        return f"write `:do: {name}`"
    if any(s.slug == slug for s in document.stages):
        return "mark the stage: write `{shared}` after its heading"
    if slug in document.steps:
        return "it is a step: `:go-to:` leads to a step, `:do:` does a shared stage"
    return did_you_mean(slug, known)
