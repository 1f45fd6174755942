"""What can be named in a document: its own steps and figures, and what its profile lists."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from kilter.assist.memory import last_document, last_profile
from kilter.assist.sketch import Sketch, sketch
from kilter.assist.values import Offer, OfferKind
from kilter.check.workspace import Workspace
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.front import EnergySource, ProfileFront
from kilter.source import Source, Span


@dataclass(frozen=True, slots=True)
class Entry:
    """Something to offer, without its place."""

    label: str
    kind: OfferKind
    detail: str = ""
    documentation: str = ""
    insert: str = ""
    """What is written where it differs from the label."""

    def at(self, span: Span) -> Offer:
        return Offer(self.label, self.insert or self.label, self.kind, self.detail, self.documentation, span)


@dataclass
class Known:
    """Looks names up for one file, sound or broken."""

    workspace: Workspace
    path: str
    source: Source

    @cached_property
    def drawn(self) -> Sketch:
        return sketch(self.source)

    @cached_property
    def document(self) -> Document | None:
        return last_document(self.workspace, self.path)

    @cached_property
    def profile(self) -> Document | None:
        return last_profile(self.workspace, self.path)

    @property
    def machine(self) -> ProfileFront | None:
        return self.profile.profile if self.profile is not None else None

    def sources(self, fits: Callable[[EnergySource], bool] = lambda source: True) -> Iterator[Entry]:
        """Those that fit the mark come first."""
        all = self.machine.sources if self.machine is not None else {}
        for name, source in sorted(all.items(), key=lambda pair: not fits(pair[1])):
            yield Entry(name, "source", f"{source.kind}, {source.word}", about_source(source))

    def listed(self, key: str, kind: OfferKind) -> Iterator[Entry]:
        """Guards, zones, switches or tests of the profile."""
        names = getattr(self.machine, key) if self.machine is not None else ()
        for name in names:
            reach = names[name] if kind == "zone" else ()
            yield Entry(name, kind, ", ".join(reach))

    def kit(self, what: OfferKind) -> Iterator[Entry]:
        """Tools or parts that are declared, then those that were only used, here or in other documents."""
        seen: set[str] = set()
        for document in (self.document, self.profile):
            for tool in getattr(document.front, f"{what}s") if document is not None else ():
                if fold(tool.name) not in seen:
                    seen.add(fold(tool.name))
                    yield Entry(tool.name, what, tool.range or tool.stock_number or "declared")
        others = [d for d in self.workspace.library.documents.values() if d is not self.document]
        used = [n.text for d in others for r in d.all_roles if r.name == what for n in r.names]
        for name in (*self.drawn.kit[str(what)], *sorted(used, key=fold)):
            if fold(name) not in seen:
                seen.add(fold(name))
                yield Entry(name, what, "used in the library")

    def items(self, before: str) -> Iterator[Entry]:
        """Items of the figures; behind a comma the numbers of the figure named before it."""
        figure = before.split()[0] if before.split() else ""
        for number, words in self.drawn.figures.get(figure, {}).items():
            yield Entry(f"{number}", "item", words)
        for id, items in self.drawn.figures.items():
            for number, words in items.items():
                yield Entry(f"{id} {number}", "item", words)

    def steps(self) -> Iterator[Entry]:
        for step in self.drawn.steps:
            if step.slug:
                yield Entry(f"#{step.slug}", "step", step.title)

    def shared_stages(self) -> Iterator[Entry]:
        for stage in self.drawn.shared_stages:
            yield Entry(stage.slug, "stage", stage.title)
        if self.profile is not None and self.profile.path != self.path:
            for slug, shared in self.profile.shared_stages.items():
                yield Entry(slug, "stage", f"{shared.title}, of the profile")

    def numbers(self) -> Iterator[Entry]:
        for document in self.workspace.library.numbers.values():
            front = document.front
            if not isinstance(front, ProfileFront) and document.path != self.path:
                yield Entry(front.number, "document", front.title)

    def profiles(self) -> Iterator[Entry]:
        for document in self.workspace.library.profiles.values():
            yield Entry(document.profile.id, "document", document.profile.title)


def about_source(source: EnergySource) -> str:
    """The profile's entry in words, as Markdown."""
    rows = [("What it is", source.why), ("Isolate", source.isolate)]
    if source.release is not None:
        how = (
            f"drains by itself in {source.bleed}"
            if source.release == "bleed" and source.bleed
            else source.release
        )
        rows.append(("Release", f"{how}, from {source.release_from}"))
    rows.append(("Prove", f"{source.prove} (from {source.prove_from})" if source.prove else None))
    rows += [(label, ", ".join(names)) for label, names in _leans(source)]
    if source.reaccumulates:
        after = "" if source.reaccumulates is True else f", after {source.reaccumulates}"
        rows.append(("Builds up again", f"yes{after}"))
    lock = "can be locked" if source.lockable else "can't be locked"
    return "\n".join([f"{source.kind}, {source.word}, {lock}", *(f"- {n}: {t}" for n, t in rows if t)])


def _leans(source: EnergySource) -> tuple[tuple[str, tuple[str, ...]], ...]:
    return (
        ("Fed by", source.fed_by),
        ("Charged by", source.charged_by),
        ("Before its release, held", source.needs.releases),
        ("Before it is put back, live", source.needs.restores),
        ("Loaded by", source.loaded_by),
    )
