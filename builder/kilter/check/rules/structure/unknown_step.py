"""An answer, a `:go-to:` or a link that leads to no step."""

from collections.abc import Iterator

from kilter.check.fixes import name_put, name_spelt
from kilter.check.lookup import near
from kilter.check.rule import Context
from kilter.check.targets import BACK, Target, shared_stages, step_targets
from kilter.diagnostic import Diagnostic, Fix, Severity, error
from kilter.model.base import slugify

CODE = "K207"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    steps = context.document.steps
    for target in step_targets(context.document):
        if target.how == "answer" and not target.written.startswith("#"):
            help = "answers lead to steps of this document: write `#` and the step's name"
            message = f"an answer leads to `{target.written}`, which is no step"
            cure = _linked(context, target)
            yield error("unknown-step", message, target.span, help, fixes=cure)
        elif target.slug != BACK and target.slug not in steps:
            yield _unknown(context, target)


def _unknown(context: Context, target: Target) -> Diagnostic:
    if not target.slug:
        help = "write the step's name after `#`"
        return error("unknown-step", "a link names no step", target.span, help)
    message = f"there is no step `{target.slug}` in this document"
    help, cure = _help(context, target.slug), _cure(context, target)
    return error("unknown-step", message, target.span, help, fixes=cure)


def _linked(context: Context, target: Target) -> tuple[Fix, ...]:
    """The sign that makes a step's name a link to it."""
    slug = target.written if target.written in context.document.steps else slugify(target.written)
    known = slug in context.document.steps
    return name_put(context.library, target.span, target.written, f"#{slug}") if known else ()


def _cure(context: Context, target: Target) -> tuple[Fix, ...]:
    document, slug = context.document, target.slug
    if slug in shared_stages(context):
        return ()
    stage = next((s for s in document.stages if s.slug == slug), None)
    first = stage.steps[0].slug if stage is not None and stage.steps else None
    first = first or (slugify(slug) if slugify(slug) in document.steps else None)
    if first is not None:
        return name_put(context.library, target.span, slug, first)
    return name_spelt(context.library, target.span, slug, document.steps)


def _help(context: Context, slug: str) -> str:
    document, profile = context.document, context.profile
    if slug in shared_stages(context):
        return f"it is a shared stage: write `:do: {slug}` on a step"
    stage = next((s for s in document.stages if s.slug == slug), None)
    if stage is not None and stage.steps:
        return f"it is a stage: lead to its first step, `#{stage.steps[0].slug}`"
    if profile is not None and profile is not document and slug in profile.steps:
        return "it is a step of the profile: do its shared stage with `:do:`"
    return near(
        slug, document.steps, "a step's name is its heading in small letters, with hyphens for spaces"
    )
