"""A source of energy that the profile does not know."""

from collections.abc import Iterator

from kilter.check.lookup import fields, key_place, marks, names_before_dash, panels, unknown_name
from kilter.check.rule import Context
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.text import Name

CODE = "K220"
SEVERITY = Severity.ERROR

EFFECTS = ("isolates", "releases", "proves", "restores", "runs-on", "loads")
"""Marks that name sources."""


def check(context: Context) -> Iterator[Diagnostic]:
    if context.equipment is None:
        return
    known = list(context.equipment.sources)
    for name in _named(context.document):
        found = unknown_name("unknown-source", SEVERITY, "source", name, known, context, "sources")
        if found is not None:
            yield found


def _named(document: Document) -> Iterator[Name]:
    for role in marks(document, *EFFECTS):
        yield from role.names
    for panel in panels(document):
        yield from panel.sources
    for field in fields(document, "clear-of"):
        yield from names_before_dash(field)
    for field in fields(document, "hands"):
        if fold(field.value).startswith("live"):
            yield from names_before_dash(field, skip="live")
    for _, step in document.all_steps():
        for answer in step.answers:
            yield from answer.failure.sources if answer.failure else ()
    if document.is_profile:
        yield from _in_profile(document)


def _in_profile(document: Document) -> Iterator[Name]:
    """Names in the front matter of a profile that point at its sources."""
    places, profile = document.places, document.profile
    for source, facts in profile.sources.items():
        lists = {
            ("fed-by",): facts.fed_by,
            ("charged-by",): facts.charged_by,
            ("needs", "releases"): facts.needs.releases,
            ("needs", "restores"): facts.needs.restores,
        }
        for keys, names in lists.items():
            for n, text in enumerate(names):
                yield Name(text=text, span=key_place(places, "sources", source, *keys, n))
    for zone, names in profile.zones.items():
        for n, text in enumerate(names):
            yield Name(text=text, span=places.of("zones", zone, n))
