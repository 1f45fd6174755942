"""Every place of a document where something with a name is named: a step, a source, a guard, a figure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from kilter.assist.profilenames import Kind, named_in_profile
from kilter.check.lookup import fields, names_before_dash, panels
from kilter.check.rules.structure.unknown_source import EFFECTS as SOURCE_MARKS
from kilter.check.targets import step_targets
from kilter.model.base import fold, slugify
from kilter.model.document import Document, Stage, Step
from kilter.model.front import ProfileFront
from kilter.model.library import Library
from kilter.model.text import Name, Role
from kilter.read.fields import names_of
from kilter.source import Source, Span

Thing: TypeAlias = tuple[Kind, str, str]
"""What is named: its kind, where the name holds (a document's path, a profile's id), and the name folded."""

MARKED: dict[str, Kind] = {
    **dict.fromkeys(SOURCE_MARKS, "source"),
    "removes": "guard", "refits": "guard", "tests": "test", "tool": "tool", "part": "part",
}  # fmt: skip
_ITEM = re.compile(r"^(?:(\S+)\s+)?(\d+)$")
_HEADING = re.compile(r"^\s*(?:#{2,3}[ \t]+)?(.*?)(?:\s*\{[^{}]*\})?(?:[ \t]+#+)?\s*$")


@dataclass(frozen=True, slots=True)
class Use:
    """One place that names a thing; `defines` where the thing itself stands."""

    thing: Thing
    span: Span
    defines: bool = False


def uses(library: Library, document: Document) -> list[Use]:
    """All of one document, in no order; what names nothing known is among them too."""
    return list(_Uses(library, document).all())


def use_at(found: list[Use], line: int, column: int) -> Use | None:
    """The smallest of them that holds a place; the place just behind it counts as well."""
    there = [u for u in found if holds(u.span, line, column)]
    return min(there, key=lambda u: _size(u.span), default=None)


def holds(span: Span, line: int, column: int) -> bool:
    """Whether a 1-based place stands in a span or just behind it."""
    return (span.line, span.column) <= (line, column) <= (span.end_line, span.end_column)


def _size(span: Span) -> tuple[int, int]:
    return span.end_line - span.line, span.end_column - span.column


def heading_words(source: Source, heading: Span) -> Span:
    """Of a heading's row the words alone, without hashes and brace mark."""
    row = source.row(heading.line - 1)
    match = _HEADING.match(row)
    return source.in_row(heading.line - 1, *match.span(1)) if match else heading


class _Uses:
    def __init__(self, library: Library, document: Document) -> None:
        self.library, self.document = library, document
        self.profile = library.profile_of(document)
        self.source = library.sources[document.path]
        front = document.front
        self.machine = fold(front.id if isinstance(front, ProfileFront) else front.equipment)

    def all(self) -> Iterator[Use]:
        yield from self._headings()
        yield from self._ways()
        yield from self._marks()
        yield from self._fields()
        yield from self._front()
        for panel in panels(self.document):
            yield from map(self._source, panel.sources)

    def _headings(self) -> Iterator[Use]:
        path = self.document.path
        for stage in self.document.stages:
            if stage.shared:
                yield from self._heading("stage", stage)
            for step in stage.steps:
                yield from self._heading("step", step)
        for figure in self.document.figures:
            if figure.id is not None:
                yield Use(("figure", path, figure.id), figure.path_span, True)
                for item in (i for p in figure.pictures for i in p.items):
                    yield Use(("item", path, f"{figure.id} {item.number}"), item.span, True)

    def _heading(self, kind: Kind, part: Stage | Step) -> Iterator[Use]:
        thing: Thing = (kind, self.document.path, part.slug)
        yield Use(thing, heading_words(self.source, part.heading_span), True)
        if (own := part.field("id")) is not None:
            yield Use(thing, own.value_span)

    def _ways(self) -> Iterator[Use]:
        """Links and answers, to steps and to other documents."""
        for target in step_targets(self.document):
            if target.written.startswith("#"):
                yield Use(self._step(target.slug), target.span)
        for _, _, link in self.document.all_links:
            if fold(link.target) in self.library.numbers:
                yield Use(("number", "", fold(link.target)), link.target_span)

    def _step(self, slug: str) -> Thing:
        if slug in self.document.steps or slug not in self._shared():
            return "step", self.document.path, slug
        return "stage", self._shared()[slug], slug

    def _shared(self) -> dict[str, str]:
        """Shared stages that can be asked for here, with the path of the document each stands in."""
        profile = self.profile
        found = dict.fromkeys(profile.shared_stages, profile.path) if profile else {}
        return {**found, **dict.fromkeys(self.document.shared_stages, self.document.path)}

    def _marks(self) -> Iterator[Use]:
        for role in self.document.all_roles:
            kind = MARKED.get(role.name)
            for name in role.names if kind is not None else ():
                assert kind is not None
                yield Use((kind, self._home(kind, name.key), name.key), name.span)
            if role.name == "item":
                yield from self._items(role)
        for _, step in self.document.all_steps():
            for answer in step.answers:
                yield from map(self._source, answer.failure.sources if answer.failure else ())

    def _items(self, role: Role) -> Iterator[Use]:
        figure = ""
        for name in role.names:
            if (match := _ITEM.match(name.text)) is not None:
                figure = match.group(1) or figure
                yield Use(("item", self.document.path, f"{figure} {match.group(2)}"), name.span)

    def _source(self, name: Name) -> Use:
        return Use(("source", self.machine, name.key), name.span)

    def _home(self, kind: Kind, name: str) -> str:
        """Where a mark's name holds: what the profile lists is the machine's, a tool may be the document's."""
        if kind not in ("tool", "part"):
            return self.machine
        own = getattr(self.document.front, f"{kind}s")
        theirs = getattr(self.profile.front, f"{kind}s") if self.profile is not None else ()
        mine = any(fold(t.name) == name for t in own) or not any(fold(t.name) == name for t in theirs)
        return self.document.path if mine or self.profile is None else self.profile.path

    def _fields(self) -> Iterator[Use]:
        for field in fields(self.document, "clear-of", "hands", "zone", "switch", "do"):
            match field.name:
                case "clear-of":
                    yield from map(self._source, names_before_dash(field))
                case "hands" if fold(field.value).startswith("live"):
                    yield from map(self._source, names_before_dash(field, skip="live"))
                case "zone":
                    yield Use(("zone", self.machine, fold(field.value)), field.value_span)
                case "switch":
                    for name in names_of(field)[:1]:
                        yield Use(("switch", self.machine, name.key), name.span)
                case "do":
                    slug = field.value.removeprefix("#")
                    slug = slug if slug in self._shared() else slugify(slug)
                    home = self._shared().get(slug, self.document.path)
                    yield Use(("stage", home, slug), field.value_span)

    def _front(self) -> Iterator[Use]:
        document, places = self.document, self.document.places
        for kit in ("tools", "parts"):
            for n, tool in enumerate(getattr(document.front, kit)):
                thing: Thing = ("tool" if kit == "tools" else "part", document.path, fold(tool.name))
                yield Use(thing, self._entry(kit, n, tool.name), True)
        if isinstance(document.front, ProfileFront):
            yield Use(("equipment", "", self.machine), places.of("id"), True)
            for kind, name, span, defines in named_in_profile(document):
                yield Use((kind, self.machine, fold(name)), span, defines)
        else:
            yield Use(("equipment", "", self.machine), places.of("equipment"))
            yield Use(("number", "", fold(document.front.number)), places.of("number"))
            yield Use(("number", "", fold(document.front.number)), document.title_span, True)

    def _entry(self, key: str, n: int, name: str) -> Span:
        places = self.document.places
        for loc in ((key, n, name), (key, name)):
            if places.known(*loc):
                return places.key(*loc)
        return places.of(key, n)
