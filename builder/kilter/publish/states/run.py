"""What `kilter states` does: read, check, choose, write."""

from __future__ import annotations

import sys
from pathlib import Path

from kilter.check.run import Report, check_library
from kilter.diagnostic import did_you_mean
from kilter.model.base import fold
from kilter.model.document import Document
from kilter.model.library import Library
from kilter.outcome import FINDINGS, OK, CouldNotRunError
from kilter.publish.states.table import states_of
from kilter.publish.view import DocumentView, view_of
from kilter.read.library import library_root, read_library, shown_path
from kilter.report.text import TextReport

PICTURES = ("svg", "html")


def show(file: Path, step: str, form: str, colour: bool) -> int:
    """Write the states of one file to the standard output; returns the exit code."""
    if not file.is_file():
        raise CouldNotRunError(f"{file}: no such file; name one Markdown file")
    if step and form in PICTURES:
        raise CouldNotRunError(
            f"a picture shows every step; leave `{step}` out, or use --format text or json"
        )
    library = read_library(library_root(file), always=[file.resolve()])
    path = shown_path(file.resolve())
    document = library.documents.get(path)
    if path in library.modules:
        raise CouldNotRunError(
            f"{file}: a training module, which nobody works from; states belong to procedures and pre-use checks, so name one of those"
        )
    if document is not None and document.is_profile:
        raise CouldNotRunError(
            f"{file}: an equipment profile; states belong to procedures and pre-use checks, so name one of those"
        )
    report = check_library(library, {path})
    if document is None or library.profile_of(document) is None:
        return _nothing_known(library, report, path, form)
    return _known(library, report, document, step, form, colour)


def _nothing_known(library: Library, report: Report, path: str, form: str) -> int:
    """Only the errors can be told; they go where they don't stand in the way of a program."""
    print(TextReport(library.sources, False).render(report.errors(path)), file=sys.stderr)
    print(f"{path}: nothing is known of its states before these are mended", file=sys.stderr)
    return FINDINGS


def _known(library: Library, report: Report, document: Document, step: str, form: str, colour: bool) -> int:
    analysis = report.contexts[document.path].analysis
    errors = len(report.errors(document.path))
    view = view_of(library, document, analysis, "")
    table = states_of(view, analysis, errors, _step(view, step) if step else "")
    if form != "text" and errors:
        print(f"{document.path}: has errors; `kilter check` says which", file=sys.stderr)
    if form == "json":
        from kilter.publish.states.json import render

        sys.stdout.write(render(table))
    elif form in PICTURES:
        from kilter.publish.states import page, svg

        sys.stdout.write(svg.render(table) if form == "svg" else page.render(table))
    else:
        from kilter.publish.states.text import TextTable

        sys.stdout.write(TextTable(table, colour).render(bool(step)))
    return FINDINGS if errors else OK


def _step(view: DocumentView, word: str) -> str:
    """The key of the step that a number, slug or title names."""
    steps = [s for stage in view.stages for s in stage.steps]
    wanted = fold(word).removeprefix("#")
    for names in (
        {fold(s.number): s.key for s in reversed(steps)},
        {fold(s.step.slug): s.key for s in reversed(steps)},
        {fold(s.anchor): s.key for s in reversed(steps)},
        {fold(s.step.title): s.key for s in reversed(steps)},
    ):
        if wanted in names:
            return names[wanted]
    known = [s.number for s in steps] if wanted[-1:].isdigit() else [s.step.slug for s in steps]
    raise CouldNotRunError(f"no step is called `{word}`; {did_you_mean(wanted, known)}")
