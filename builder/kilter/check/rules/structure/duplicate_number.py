"""Two documents of one number, or two profiles of one id."""

from collections import defaultdict
from collections.abc import Iterator

from kilter.diagnostic import Diagnostic, Label, Severity, error
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.model.training import Module
from kilter.source import Span

CODE = "K204"
SEVERITY = Severity.ERROR


def check_library(library: Library) -> Iterator[Diagnostic]:
    groups: dict[tuple[bool, str], list[Document | Module]] = defaultdict(list)
    for path in sorted(library.documents):
        own = library.documents[path]
        groups[own.is_profile, own.key].append(own)
    for path in sorted(library.modules):
        groups[False, library.modules[path].key].append(library.modules[path])
    for (profile, _), group in sorted(groups.items()):
        for document in group if len(group) > 1 else ():
            others = [d for d in group if d is not document]
            yield _twice(document, others, "id" if profile else "number")


def _twice(document: Document | Module, others: list[Document | Module], key: str) -> Diagnostic:
    place = _place(document, key)
    return error(
        "duplicate-number",
        f"{key} `{document.key}` belongs to {others[0].path} too",
        place,
        f"give one of them another {key}; case does not count",
        related=tuple(Label(_place(d, key), "also here") for d in others),
    )


def _place(document: Document | Module, key: str) -> Span:
    return document.places.of(key)
