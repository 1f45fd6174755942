"""What came of reading one file."""

from __future__ import annotations

from dataclasses import dataclass

from kilter.diagnostic import Diagnostic
from kilter.model.document import Document
from kilter.model.training import Module
from kilter.source import Source


@dataclass(frozen=True)
class Reading:
    """A file's text, its document if there is one, and what is wrong with it."""

    source: Source
    document: Document | None
    findings: tuple[Diagnostic, ...]
    claims: tuple[str, str] | None = None
    """Kind and id (or number) that a file without a sound front matter gives itself."""
    module: Module | None = None
    """What a training file holds; it is no document that anybody follows."""
