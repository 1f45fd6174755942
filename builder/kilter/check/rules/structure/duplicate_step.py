"""Two steps, or two shared stages, that answer to one name."""

from collections.abc import Iterator, Sequence
from itertools import count

from kilter.check.fixes import field_under, name_put
from kilter.check.rule import Context
from kilter.check.targets import BACK
from kilter.diagnostic import Diagnostic, Fix, Label, Severity, error
from kilter.model.document import Stage, Step
from kilter.model.library import Library

CODE = "K206"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    library = context.library
    yield from _twice(library, "step", [step for _, step in document.all_steps()])
    yield from _twice(library, "shared stage", [s for s in document.stages if s.shared])
    if context.profile is None or context.profile is document:
        return
    for slug, stage in document.shared_stages.items():
        if (other := context.profile.shared_stages.get(slug)) is not None:
            message = f"shared stage `{slug}` stands in the profile too"
            yield _error(message, stage, "rename it, so that `:do:` can only mean one", other)


def _twice(library: Library, what: str, found: Sequence[Step] | Sequence[Stage]) -> Iterator[Diagnostic]:
    first: dict[str, Step | Stage] = {}
    for entry in found:
        slug = entry.slug
        if slug == BACK:
            help = "rename it, or give it a name of its own: `:id: go-back`"
            cure = _named(library, entry, found, "go-back")
            yield _error(
                f"{what} `{slug}` takes the name that returns from a shared stage", entry, help, cure=cure
            )
        elif not slug and entry.title:
            help = "name it in letters or digits, or write `:id: some-name` under it"
            yield _error(f"the heading of a {what} gives no name to link to", entry, help)
        elif slug in first and slug:
            help = f"rename one, or give it a name of its own: `:id: {slug}-2`"
            yield _error(
                f"{what} `{slug}` stands twice", entry, help, first[slug], _named(library, entry, found, slug)
            )
        first.setdefault(slug, entry)


def _named(
    library: Library, entry: Step | Stage, others: Sequence[Step] | Sequence[Stage], stem: str
) -> tuple[Fix, ...]:
    """A name of its own, that no other has."""
    taken = {e.slug for e in others}
    name = next(i for n in count(1) if (i := stem if n == 1 else f"{stem}-{n}") not in taken)
    field = entry.field("id")
    if field is not None:
        return name_put(library, field.value_span, field.value, name)
    return field_under(entry, f"name it with `:id: {name}`", f":id: {name}")


def _error(
    message: str,
    entry: Step | Stage,
    help: str,
    other: Step | Stage | None = None,
    cure: tuple[Fix, ...] = (),
) -> Diagnostic:
    related = () if other is None else (Label(other.heading_span, "the other one"),)
    return error("duplicate-step", message, entry.heading_span, help, related=related, fixes=cure)
