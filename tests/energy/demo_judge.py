"""Asks the checker, and where it matters the oracle, about one changed file of the demo library."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from kilter.check.flow import RULES
from kilter.check.rule import Context
from kilter.check.run import check_document, check_library
from kilter.diagnostic import Diagnostic, Severity
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.read.document import read_bytes
from kilter.read.library import read_library

from .demo_edits import marks, panels
from .demo_page import Mutant, Page
from .demo_profile import Unreadable
from .demo_reach import reach, whole
from .demo_ways import fields, ways
from .from_document import PREFIX, from_document
from .oracle import judge
from .reading import Outcome
from .spec import Spec

DEMO = Path(__file__).parents[2] / "procedures"
UNJUDGED = frozenset({"short-reason", "bad-hands", "bad-clear-of", "bad-exit", "do-with-effects"})
"""Rules of the analysis that the oracle knows nothing of."""
Place = tuple[str, str]
"""`step` or `stage`, and its slug as in the abstract case."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What was said about one change, judged through one procedure."""

    mutant: Mutant
    number: str
    """Of the procedure or pre-use check through which it is judged."""
    rules: tuple[str, ...]
    """Of every error, in order of place; empty for a survivor."""
    at_place: int
    """Errors at the changed step or after it on the way."""
    after: Spec | None
    """The changed case, None where it can't be told."""
    outcome: Outcome | None
    """The oracle's word on it, where it was asked."""

    @property
    def name(self) -> str:
        """Stable name of the change."""
        return f"{self.number} / {self.mutant.where} / {self.mutant.kind} {self.mutant.what}".strip()

    @property
    def sound(self) -> bool:
        """The oracle has nothing against it."""
        return self.outcome is not None and not self.outcome.core and not self.outcome.honesty


class Demo:
    """The demo library, with one file changed at a time."""

    def __init__(self) -> None:
        self.library: Library = read_library(DEMO, base=DEMO.parent)
        found = {path: d for path, d in self.library.documents.items() if not d.is_profile}
        self.documents = found
        self.specs = {path: from_document(d, self.profile(d)) for path, d in found.items()}

    def profile(self, document: Document) -> Document:
        """The profile of a procedure."""
        found = self.library.profile_of(document)
        assert found is not None
        return found

    def mutants(self) -> Iterator[Mutant]:
        """Every change of every file, in a fixed order."""
        for path in sorted(self.library.documents):
            page = Page(self.library.documents[path], self.library.sources[path].text)
            for change in (marks, panels, ways, fields):
                yield from change(page)

    def through(self, mutant: Mutant) -> Iterator[str]:
        """The procedure that was changed, or those that ask for the changed stage of a profile."""
        changed = self.library.documents[mutant.path]
        if not changed.is_profile:
            yield mutant.path
            return
        for path, document in self.documents.items():
            if self.profile(document) is changed and _touches(self.specs[path], mutant):
                yield path

    def verdicts(self, mutant: Mutant) -> list[Verdict]:
        """Judge one change."""
        original = self.library.readings[mutant.path]
        reading = read_bytes(mutant.path, mutant.text.encode())
        paths = list(self.through(mutant))
        broken = [d for d in reading.findings if d.severity is Severity.ERROR]
        self.library.add(reading)
        try:
            return [self._verdict(mutant, path, broken) for path in paths]
        finally:
            self.library.add(original)

    def _verdict(self, mutant: Mutant, path: str, broken: list[Diagnostic]) -> Verdict:
        document = self.library.documents.get(path)
        errors = broken + self._errors({path, mutant.path})
        if not errors:  # what survives is asked again with all there is, as a build would
            errors = self._thorough({path, mutant.path})
        errors = list(dict.fromkeys(errors))
        after = self._spec(document)
        energy = all(d.rule in RULES and d.rule not in UNJUDGED for d in errors)
        outcome = judge(after) if after is not None and energy else None
        number = self.documents[path].key.upper()
        reached = self._reached(mutant, self.specs[path], after, path)
        hit = sum(self._place(d) in reached for d in errors)
        return Verdict(mutant, number, tuple(d.rule for d in errors), hit, after, outcome)

    def _errors(self, paths: set[str]) -> list[Diagnostic]:
        found: list[Diagnostic] = []
        for path in sorted(paths & self.library.documents.keys()):
            document = self.library.documents[path]
            found += check_document(Context(self.library, document, self.library.profile_of(document)))
        return [d for d in found if d.severity is Severity.ERROR]

    def _thorough(self, paths: set[str]) -> list[Diagnostic]:
        return [d for d in check_library(self.library, paths).all() if d.severity is Severity.ERROR]

    def _spec(self, document: Document | None) -> Spec | None:
        profile = self.library.profile_of(document) if document else None
        if document is None or profile is None:
            return None
        try:
            spec = from_document(document, profile)
        except Unreadable:
            return None
        return spec if whole(spec) else None

    def _place(self, found: Diagnostic) -> Place:
        document = self.library.documents.get(found.span.path)
        prefix = PREFIX if document is not None and document.is_profile else ""
        for stage in document.stages if document else ():
            for step in stage.steps:
                if step.span.line <= found.span.line <= step.span.end_line:
                    return "step", prefix + step.slug
        inside = [s for s in (document.stages if document else ()) if s.span.line <= found.span.line]
        return "stage", prefix + inside[-1].slug if inside else ""

    def _reached(self, mutant: Mutant, before: Spec, after: Spec | None, path: str) -> set[Place]:
        """The changed steps and all that lies after them, as it was and as it is now; their stages too."""
        prefix = (
            PREFIX if self.library.documents.get(mutant.path) is not self.library.documents.get(path) else ""
        )
        starts = {prefix + slug for slug in mutant.starts}
        steps: set[str] = set()
        for spec in (before, after):
            if spec is not None:
                steps |= reach(spec, starts)
        stages = {s.slug for s in before.stages if steps & {x.slug for x in s.steps}}
        return {("step", s) for s in steps} | {("stage", s) for s in stages}


def _touches(spec: Spec, mutant: Mutant) -> bool:
    """Is the changed stage of the profile, or the changed step, part of the case?"""
    slug = PREFIX + mutant.where
    return any(s.in_profile and (s.slug == slug if mutant.in_stage else slug in {x.slug for x in s.steps})
               for s in spec.stages)  # fmt: skip
