"""From a name to where it stands, and to everywhere it is used."""

from __future__ import annotations

from kilter.assist.uses import Thing, Use, use_at, uses
from kilter.assist.values import Part
from kilter.check.workspace import Workspace, equipment_of
from kilter.model.document import Document, Stage, Step
from kilter.source import Source, Span


def definition(workspace: Workspace, path: str, line: int, column: int) -> list[Span]:
    """Where the thing named at a place stands; empty where nothing is named.

    A link leads to the step's heading, a mark to the profile's entry, `:do:` to the shared stage (also in the
    profile), a number to the title of its document, an item to its line in the figure.
    """
    found = thing_at(workspace, path, line, column)
    return [] if found is None else [u.span for u in everywhere(workspace, found.thing) if u.defines]


def references(
    workspace: Workspace, path: str, line: int, column: int, with_definition: bool = True
) -> list[Span]:
    """Every place of the library that names the same thing, in order."""
    found = thing_at(workspace, path, line, column)
    if found is None:
        return []
    return [u.span for u in everywhere(workspace, found.thing) if with_definition or not u.defines]


def thing_at(workspace: Workspace, path: str, line: int, column: int) -> Use | None:
    """What is named at a place; None also while the file can't be read."""
    document = workspace.library.documents.get(path)
    return None if document is None else use_at(uses(workspace.library, document), line, column)


def everywhere(workspace: Workspace, thing: Thing) -> list[Use]:
    """All places that name a thing, in order of place."""
    kind, home, _ = thing
    library = workspace.library
    documents: list[Document] = list(library.documents.values())
    if kind in ("step", "figure", "item"):  # these hold in their own document only
        documents = [d for d in documents if d.path == home]
    elif kind in ("source", "guard", "zone", "switch", "test"):  # and these on one machine
        documents = [d for d in documents if equipment_of(d) == home]
    found = {u for d in documents for u in uses(library, d) if u.thing == thing}
    return sorted(found, key=lambda u: u.span)


def outline(document: Document) -> list[Part]:
    """Stages, and in each its steps."""
    return [_stage(stage) for stage in document.stages]


def _stage(stage: Stage) -> Part:
    steps = tuple(_step(s) for s in stage.steps)
    detail = "shared" if stage.shared else ""
    return Part(stage.title, detail, "stage", stage.span, stage.heading_span, steps)


def _step(step: Step) -> Part:
    told = step.field("exit") or step.field("do")
    return Part(step.title, told.value if told else "", "step", step.span, step.heading_span)


def text_in(source: Source, span: Span) -> str:
    """The text that a span covers."""
    rows = source.lines[span.line - 1 : span.end_line]
    if not rows:
        return ""
    rows = [*rows[:-1], rows[-1][: span.end_column - 1]]
    rows[0] = rows[0][span.column - 1 :]
    return "\n".join(rows)
