"""Two steps, or two shared stages, that answer to one name."""

from collections.abc import Iterable, Iterator

from kilter.check.rule import Context
from kilter.check.targets import BACK
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.document import Stage, Step

CODE = "K206"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    yield from _twice("step", (step for _, step in document.all_steps()))
    yield from _twice("shared stage", (s for s in document.stages if s.shared))
    if context.profile is None or context.profile is document:
        return
    for slug, stage in document.shared_stages.items():
        if (other := context.profile.shared_stages.get(slug)) is not None:
            message = f"shared stage `{slug}` stands in the profile too"
            yield _error(message, stage, "rename it, so that `:do:` can only mean one", other)


def _twice(what: str, found: Iterable[Step] | Iterable[Stage]) -> Iterator[Diagnostic]:
    first: dict[str, Step | Stage] = {}
    for entry in found:
        slug = entry.slug
        if slug == BACK:
            help = "rename it, or give it a name of its own: `:id: go-back`"
            yield _error(f"{what} `{slug}` takes the name that returns from a shared stage", entry, help)
        elif not slug and entry.title:
            help = "name it in letters or digits, or write `:id: some-name` under it"
            yield _error(f"the heading of a {what} gives no name to link to", entry, help)
        elif slug in first and slug:
            help = f"rename one, or give it a name of its own: `:id: {slug}-2`"
            yield _error(f"{what} `{slug}` stands twice", entry, help, first[slug])
        first.setdefault(slug, entry)


def _error(message: str, entry: Step | Stage, help: str, other: Step | Stage | None = None) -> Diagnostic:
    related = () if other is None else (Label(other.heading_span, "the other one"),)
    return error("duplicate-step", message, entry.heading_span, help, related=related)
