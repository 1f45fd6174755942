"""The only place that knows the project: it feeds the real reader and asks the engine.

The engine's author finishes `diagnose`; everything else here only turns places into step slugs.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterable
from pathlib import Path

from kilter.diagnostic import Diagnostic, Severity
from kilter.model.document import Document, Stage, Step
from kilter.model.library import Library
from kilter.read.document import read_bytes

IGNORED: frozenset[str] = frozenset({"written-too-early"})
"""Rules that the oracle does not judge, core or honesty, by name."""


def read_case(profile_text: str, procedure_text: str) -> tuple[Library, Document, Document]:
    """A library of the two texts; refuses a case that the reader has anything to say about."""
    library = Library(Path())
    documents = []
    for path, text in (("profile.md", profile_text), ("gen-1.md", procedure_text)):
        reading = read_bytes(path, text.encode())
        assert reading.document is not None, reading.findings
        assert not reading.findings, reading.findings
        library.add(reading)
        documents.append(reading.document)
    return library, documents[0], documents[1]


def diagnose(library: Library, procedure: Document) -> Iterable[Diagnostic]:
    """The findings of the energy analysis for one procedure, with those of the plain rules about links and steps."""
    run = importlib.import_module("kilter.check.run")
    profile = library.profile_of(procedure)
    checked = [procedure] if profile is None else [procedure, profile]
    found: list[Diagnostic] = []
    for document in checked:
        found += run.check_document(run.Context(library, document, profile))
    return found


def engine_findings(profile_text: str, procedure_text: str) -> set[tuple[str, str]]:
    """(step slug, rule) of every error; the stage's slug or "" where the place is in no step."""
    library, profile, procedure = read_case(profile_text, procedure_text)
    errors = (
        d for d in diagnose(library, procedure) if d.severity is Severity.ERROR and d.rule not in IGNORED
    )
    return {(place((procedure, profile), d), d.rule) for d in errors}


def place(documents: tuple[Document, ...], found: Diagnostic) -> str:
    """Slug of the step, or else the stage, that a finding's main place stands in."""
    stages = [
        stage for document in documents if document.path == found.span.path for stage in document.stages
    ]
    parts: list[Step | Stage] = [*(step for stage in stages for step in stage.steps), *stages]
    line = found.span.line
    return next((part.slug for part in parts if part.span.line <= line <= part.span.end_line), "")
