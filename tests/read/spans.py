"""Every place that a reading names, and the text that stands there."""

from __future__ import annotations

from collections.abc import Iterator

from kilter.model.document import Document
from kilter.model.reading import Reading
from kilter.model.text import Link, Role, Run, Text, all_runs, walk
from kilter.source import Source, Span


def text_at(source: Source, span: Span) -> str:
    """The text of a place, line ends as LF."""
    rows = source.lines[span.line - 1 : span.end_line]
    if len(rows) == 1:
        return rows[0][span.column - 1 : span.end_column - 1]
    return "\n".join([rows[0][span.column - 1 :], *rows[1:-1], rows[-1][: span.end_column - 1]])


def inside(source: Source, span: Span) -> bool:
    """Whether a place lies in its file, its end not before its beginning."""
    if not 1 <= span.line <= span.end_line <= len(source.lines):
        return False
    if (span.line, span.column) > (span.end_line, span.end_column):
        return False
    begin, end = len(source.lines[span.line - 1]), len(source.lines[span.end_line - 1])
    return 1 <= span.column <= begin + 1 and 1 <= span.end_column <= end + 1


def runs_of(document: Document) -> Iterator[Run]:
    """Every run of a document, answers too."""
    for blocks in document.all_blocks():
        yield from all_runs(blocks)
    for _, step in document.all_steps():
        for answer in step.answers:
            yield from walk(answer.seen)
            yield answer.link


def spans_of(reading: Reading) -> Iterator[Span]:
    """Every place of the findings and of the document."""
    for found in reading.findings:
        yield found.span
        yield from (label.span for label in found.related)
    if reading.document is not None:
        yield from _document(reading.document)


def _document(document: Document) -> Iterator[Span]:
    yield from (document.title_span, document.first_row_span)
    for run in runs_of(document):
        yield run.span
        if isinstance(run, Role):
            yield run.text_span
            yield from (name.span for name in run.names)
        if isinstance(run, Link):
            yield run.target_span
    for stage in document.stages:
        yield from (stage.span, stage.heading_span)
        for holder in (stage, *stage.steps):
            for field in holder.fields:
                yield from (field.span, field.name_span, field.value_span)
    for _, step in document.all_steps():
        yield from (step.span, step.heading_span, step.end_span)
        for answer in step.answers:
            yield answer.span
            if answer.failure is not None:
                yield answer.failure.span
                yield from (name.span for name in answer.failure.sources)
    for figure in document.figures:
        yield from (figure.span, figure.path_span)
        yield from (item.span for item in figure.items)


def words_at(source: Source, document: Document) -> Iterator[tuple[str, str]]:
    """What plain words, roles, names and link targets say, each with the text at its place."""
    for run in runs_of(document):
        if isinstance(run, Text):
            yield run.text, text_at(source, run.span)
        elif isinstance(run, Role):
            yield run.text, text_at(source, run.text_span).strip()
            yield from ((name.text, text_at(source, name.span)) for name in run.names)
        elif isinstance(run, Link):
            yield run.target, text_at(source, run.target_span)
