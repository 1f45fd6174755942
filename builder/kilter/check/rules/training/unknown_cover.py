"""A training module names a document, a step or a figure that is not there."""

from collections.abc import Iterator

from kilter.check.module import ModuleContext
from kilter.diagnostic import Diagnostic, Severity, did_you_mean, error
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.training import Taken, split_reference
from kilter.source import Span

CODE = "K901"
SEVERITY = Severity.ERROR


def check_module(context: ModuleContext) -> Iterator[Diagnostic]:
    front, places = context.module.front, context.module.places
    for n, reference in enumerate(front.covers):
        yield from _reference(context, reference, places.of("covers", n))
    for name, objective in front.objectives.items():
        for n, reference in enumerate(objective.covers):
            yield from _reference(context, reference, places.of("objectives", name, "covers", n))
    for taken in context.module.taken:
        reference = f"{taken.number}#{taken.step}" if taken.step else taken.number
        yield from _reference(context, reference, taken.place)
        yield from _figure(context, taken)
    for fault in context.module.faults:
        yield from _reference(context, fault.number, fault.place)


def _reference(context: ModuleContext, reference: str, span: Span) -> Iterator[Diagnostic]:
    number, slug = split_reference(reference)
    document = context.document(number)
    if document is None:
        known = [str(getattr(d.front, "number", "")) for d in context.library.numbers.values()]
        message = f"no procedure or pre-use check has the number `{number}`"
        yield error("unknown-cover", message, span, did_you_mean(number, known))
    elif slug and not context.find(reference):
        slugs = [c.step.slug for c in context.steps_of(document)]
        yield error("unknown-cover", f"{number} has no step `{slug}`", span, did_you_mean(slug, slugs))


def _figure(context: ModuleContext, taken: Taken) -> Iterator[Diagnostic]:
    document = context.document(taken.number)
    if taken.part != "figure" or document is None:
        return
    known = [f.id for owner in _owners(context, document) for f in owner.figures if f.id]
    if fold(taken.figure) not in map(fold, known):
        message = f"{taken.number} has no figure `{taken.figure}`"
        help = did_you_mean(taken.figure, known) if known else "none of its figures has an `:id:`"
        yield error("unknown-cover", message, taken.place, help)


def _owners(context: ModuleContext, document: Document) -> list[Document]:
    profile = context.library.profile_of(document)
    return [document] if profile is None else [document, profile]
