"""A name in a profile that can't be told from another, or that a comma would split."""

from collections.abc import Iterable, Iterator

from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.base import fold
from kilter.source import Span

CODE = "K231"
SEVERITY = Severity.ERROR


def check(context: Context) -> Iterator[Diagnostic]:
    document = context.document
    if not document.is_profile:
        return
    profile, places = document.profile, document.places
    for key, names in (
        ("sources", profile.sources),
        ("zones", profile.zones),
        ("switches", profile.switches),
    ):
        yield from _names(key, ((name, places.key(key, name)) for name in names))
    for key, listed in (("guards", profile.guards), ("before-service", profile.before_service)):
        yield from _names(key, ((name, places.of(key, n)) for n, name in enumerate(listed)))


def _names(key: str, names: Iterable[tuple[str, Span]]) -> Iterator[Diagnostic]:
    first: dict[str, Span] = {}
    for name, span in names:
        if "," in name:
            help = "name it without a comma: in the text a comma separates names"
            yield error("source-name", f"name `{name}` in `{key}` holds a comma", span, help)
        elif not name.strip():
            yield error("source-name", f"an empty name in `{key}`", span, "name it")
        elif fold(name) in first:
            help = "rename one of them; case and blanks do not count"
            related = (Label(first[fold(name)], "the other one"),)
            yield error("source-name", f"name `{name}` stands twice in `{key}`", span, help, related=related)
        first.setdefault(fold(name), span)
