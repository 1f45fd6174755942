"""What `kilter data` does: read, check, refuse what has errors, write."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from kilter.check.run import check_library
from kilter.outcome import FINDINGS, OK, CouldNotRunError
from kilter.publish.compiled.data import Compiled
from kilter.publish.compiled.make import compiled
from kilter.publish.prepare import held_back, made_view
from kilter.read.library import library_root, read_library, shown_path
from kilter.report.text import TextReport


def write(file: Path) -> int:
    """Write one document to the standard output; with errors in it or its profile nothing but those."""
    if not file.is_file():
        raise CouldNotRunError(f"{file}: no such file; name one Markdown file")
    resolved, path = file.resolve(), shown_path(file.resolve())
    library = read_library(library_root(file), always=[resolved], only=[resolved])
    document = library.documents.get(path)
    if path in library.modules:
        raise CouldNotRunError(
            f"{file}: a training module, which nobody works from; name a procedure or pre-use check"
        )
    if document is not None and document.is_profile:
        raise CouldNotRunError(
            f"{file}: an equipment profile; name a procedure or pre-use check, which brings what it needs of it"
        )
    profile = library.profile_of(document) if document else None
    report = check_library(library, {path} | ({profile.path} if profile else set()))
    held = held_back(library, path, report.errors)
    if held is not None or document is None:
        print(TextReport(library.sources, False).render(held.errors if held else ()), file=sys.stderr)
        print(f"{path}: is not written before these are mended", file=sys.stderr)
        return FINDINGS
    view = made_view(library, document, report.contexts[path].analysis)
    sys.stdout.write(render(compiled(library, view)))
    return OK


def render(document: Compiled) -> str:
    """Same document, same bytes."""
    return json.dumps(document.model_dump(mode="json", by_alias=True), ensure_ascii=False, indent=2) + "\n"
